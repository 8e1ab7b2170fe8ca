// A desk's shortcuts: `/` to search, arrows to walk the tiles, `?` for the list. The pages work without them.
(() => {
  const typing = (node) => node.closest("input, select, textarea, dialog, [contenteditable]");
  const steps = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] };

  // Left and right follow the order of the wall; up and down go to the nearest tile of the nearest row.
  const neighbour = (tiles, here, [across, down]) => {
    if (across) return tiles[tiles.indexOf(here) + across];
    const from = here.getBoundingClientRect();
    const far = (tile) => {
      const box = tile.getBoundingClientRect();
      return Math.abs(box.top - from.top) * 1000 + Math.abs(box.left - from.left);
    };
    return tiles
      .filter((tile) => (tile.getBoundingClientRect().top - from.top) * down > 8)
      .sort((a, b) => far(a) - far(b))[0];
  };

  document.addEventListener("keydown", (event) => {
    if (event.ctrlKey || event.metaKey || event.altKey || typing(event.target)) return;
    let target = null;
    if (event.key === "/") {
      target = document.querySelector("input[type=search]");
    } else if (event.key === "?") {
      const list = document.getElementById("keys");
      if (list) list.showModal();
    } else if (steps[event.key]) {
      const tiles = [...document.querySelectorAll(".tile a.face")];
      const here = document.activeElement.closest(".tile")?.querySelector("a.face");
      if (here) target = neighbour(tiles, here, steps[event.key]);
      else if (event.key === "ArrowRight") target = tiles[0];
    }
    if (!target) return;
    event.preventDefault();
    target.focus();
  });
})();
