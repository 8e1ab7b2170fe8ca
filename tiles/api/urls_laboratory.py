"""Laboratory reports and trials at home under /api/v1/."""

from studio.api.routing import Router
from tiles.api.home_trials import HomeTrials
from tiles.api.laboratory import LabReports

router = Router()
router.add("lab-reports", LabReports)
router.add("home-trials", HomeTrials)

urlpatterns = router.urls
