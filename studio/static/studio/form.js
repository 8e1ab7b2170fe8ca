// One press sends once, and an entry that cannot leave the phone says so and stays on the page.
(() => {
  const unsent = document.getElementById("unsent");
  const release = () => document.querySelectorAll("[aria-disabled]").forEach((b) => b.removeAttribute("aria-disabled"));

  document.addEventListener("submit", (event) => {
    const form = event.target;
    // By attribute: a question may itself be named "method".
    if (form.getAttribute("method")?.toLowerCase() !== "post") return;
    const pressed = event.submitter;
    if (pressed?.hasAttribute("aria-disabled")) {
      event.preventDefault();
    } else if (!navigator.onLine && unsent?.hidden) {
      // A second press is let through: a studio on its own machine may need no network.
      event.preventDefault();
      unsent.hidden = false;
      unsent.scrollIntoView({ block: "nearest" });
    } else {
      pressed?.setAttribute("aria-disabled", "true");
    }
  });
  window.addEventListener("online", () => {
    if (unsent) unsent.hidden = true;
  });
  window.addEventListener("pageshow", release);
  document.addEventListener("htmx:afterRequest", release);
})();
