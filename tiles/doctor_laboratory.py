"""Checks of laboratory reports and trials at home, for `manage.py doctor`."""

from studio import papers
from studio.doctor import files_exist
from studio.models import Change
from tiles.models import HomeTrialPhoto, LabReport


def report_files_exist() -> list[str]:
    """Every report's file, also one that was replaced, and every photo of a trial at home, is in the storage."""
    kept = LabReport.objects.exclude(file_key="")
    lost = [report for report in kept if not papers.is_there(report.file_key)]
    replaced = Change.objects.filter(kind="tiles.labreport", before__has_key="file_key").order_by("at", "id")
    before = [(row.object_text, row.before["file_key"]) for row in replaced if row.before["file_key"]]
    photos = HomeTrialPhoto.objects.select_related("trial__tile")
    return [
        *(f"The {report} lacks its file {papers.path_of(report.file_key)}." for report in lost),
        *(
            f"The {report} lacks a file that was replaced, {papers.path_of(key)}."
            for report, key in before
            if not papers.is_there(key)
        ),
        *files_exist((f"a trial at home on {photo.trial.tile}", photo) for photo in photos),
    ]
