// A station's page goes back to the front page when nobody has touched it for a while. The server counts as well.
(() => {
  const { seconds, front, here } = document.currentScript.dataset;
  let touched = Date.now();
  let told = touched;
  const touch = () => {
    touched = Date.now();
    if (here && touched - told > 5000) {
      told = touched;
      fetch(here, { cache: "no-store" }).catch(() => {});
    }
  };
  for (const kind of ["input", "keydown", "pointerdown", "scroll"]) {
    window.addEventListener(kind, touch, { passive: true, capture: true });
  }
  const clock = window.setInterval(() => {
    if (Date.now() - touched < seconds * 1000) return;
    window.clearInterval(clock);
    window.location.replace(front);
  }, 1000);
})();
