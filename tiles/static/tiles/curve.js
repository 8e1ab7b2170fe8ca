// Reads the curve under the pointer, and by arrow keys. Without it every column of the drawing is a link.
(() => {
  const figure = document.getElementById("curve");
  if (!figure) return;
  const steps = JSON.parse(figure.dataset.steps);
  const last = steps.length - 1;
  const readout = document.getElementById("readout");
  const sliders = [...figure.querySelectorAll(".cells")];
  let here = 0;

  const show = (step) => {
    here = Math.min(Math.max(step, 0), last);
    readout.textContent = steps[here];
    for (const line of figure.querySelectorAll(".cursor")) {
      const { left, right, top, bottom } = line.dataset;
      const x = Number(left) + ((Number(right) - Number(left)) * here) / last;
      line.setAttribute("d", `M${x.toFixed(1)} ${top}V${bottom}`);
    }
    for (const slider of sliders) {
      slider.setAttribute("aria-valuenow", here);
      slider.setAttribute("aria-valuetext", steps[here]);
    }
  };

  // The links beside the drawing go on from the moment that was tapped, and need no way to the server.
  const begun = Number(figure.dataset.at ?? 0);
  here = Math.min(Math.round((begun / Number(figure.dataset.end || 1)) * last), last);
  for (const link of figure.querySelectorAll(".beside-readout a")) {
    link.addEventListener("click", (event) => {
      event.preventDefault();
      show(here + Number(link.dataset.by));
    });
  }

  const moves = { ArrowLeft: -1, ArrowDown: -1, ArrowRight: 1, ArrowUp: 1, PageDown: -8, PageUp: 8 };
  for (const slider of sliders) {
    slider.removeAttribute("aria-hidden");
    slider.replaceChildren();
    slider.tabIndex = 0;
    slider.setAttribute("role", "slider");
    slider.setAttribute("aria-label", figure.dataset.label);
    slider.setAttribute("aria-valuemin", 0);
    slider.setAttribute("aria-valuemax", last);
    slider.setAttribute("aria-valuenow", here);
    const read = (event) => {
      const box = slider.getBoundingClientRect();
      show(Math.round(((event.clientX - box.left) / box.width) * last));
    };
    slider.addEventListener("pointermove", read);
    slider.addEventListener("pointerdown", read);
    slider.addEventListener("keydown", (event) => {
      const ends = { Home: -last, End: last };
      const by = moves[event.key] ?? ends[event.key];
      if (by === undefined) return;
      event.preventDefault();
      event.stopPropagation();
      show(here + by);
    });
  }
})();
