// Niceties of the logging page; it works without them.
(() => {
  // Big steps beside a count.
  document.querySelectorAll("[data-stepper]").forEach((input) => {
    const box = document.createElement("span");
    box.className = "stepper";
    input.replaceWith(box);
    const step = (words, sign) => {
      const button = document.createElement("button");
      button.type = "button";
      button.className = "quiet";
      button.textContent = words;
      button.setAttribute("aria-label", `${words} 1`);
      button.addEventListener("click", () => {
        sign > 0 ? input.stepUp() : input.stepDown();
        input.dispatchEvent(new Event("change", { bubbles: true }));
      });
      return button;
    };
    box.append(step("−", -1), input, step("+", 1));
  });

  // A chip, another bucket and a bare glaze exclude each other: the last choice stands.
  const chips = document.querySelectorAll("input[type=radio][name=fill]");
  const lists = document.querySelectorAll("select[name=other_fill], select[name=glaze]");
  const another = [...chips].find((chip) => chip.value === "");
  document.addEventListener("change", ({ target }) => {
    if (target.name === "fill" && target.value) lists.forEach((list) => { list.value = ""; });
    if ([...lists].includes(target) && target.value) {
      if (another) another.checked = true;
      lists.forEach((list) => { if (list !== target) list.value = ""; });
    }
  }, true);
  // "Another" is often chosen already, so it is the tap and not a change that shows the lists.
  another?.addEventListener("click", () => {
    const folded = lists[0]?.closest("details");
    if (folded) folded.open = true;
  });
})();
