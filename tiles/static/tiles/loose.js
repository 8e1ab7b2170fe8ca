// Many photos go one by one, so that a slow line shows how far it is and a lost one costs a single photo.
(() => {
  const form = document.getElementById("many");
  const chosen = form?.querySelector("input[type=file]");
  const progress = document.getElementById("progress");
  if (!chosen) return;
  form.addEventListener("submit", async (event) => {
    const files = [...chosen.files];
    if (files.length < 2 || !navigator.onLine) return;
    event.preventDefault();
    progress.hidden = false;
    for (const [n, file] of files.entries()) {
      progress.textContent = `${form.dataset.sending} ${n + 1} / ${files.length}`;
      const body = new FormData(form);
      body.delete(chosen.name);
      body.append(chosen.name, file, file.name);
      // What was said about it stands on the page that comes next; "manual" leaves it unread until then.
      body.append("one_by_one", "1");
      try {
        await fetch(form.action, { method: "POST", body, redirect: "manual" });
      } catch {
        progress.textContent = `${form.dataset.lost} ${n} / ${files.length}`;
        return;
      }
    }
    location.assign(form.action);
  });
})();
