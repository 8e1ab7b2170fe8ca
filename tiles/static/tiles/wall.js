// At a desk there is room for the filters: unfold them, unless they were folded away before.
(() => {
  const fold = document.getElementById("filters");
  if (!fold) return;
  let kept = null;
  try {
    kept = sessionStorage.getItem("filters");
  } catch {
    // A browser that keeps nothing simply starts afresh.
  }
  fold.open = matchMedia("(min-width: 48rem)").matches && kept !== "folded";
  fold.addEventListener("toggle", () => {
    try {
      sessionStorage.setItem("filters", fold.open ? "open" : "folded");
    } catch {
      // Nothing is lost but a preference.
    }
  });
})();
// Counts that arrive for a page which is no longer shown have no place to go to.
document.addEventListener("htmx:beforeSwap", (event) => {
  if (!event.detail.requestConfig.elt.isConnected) event.detail.shouldSwap = false;
});
