// Moves and enlarges the maps. Reads no text of the page and writes none; without it each map is a picture.
"use strict";
(() => {
  const MOST = 6, STEP = 1.5, PAN = 60;

  function makeLive(figure) {
    const frame = figure.querySelector(".frame");
    const picture = frame.querySelector("img");
    let zoom = 1, from = null;

    function setZoom(wanted, x, y) {
      const next = Math.min(Math.max(wanted, 1), MOST);
      const left = (frame.scrollLeft + x) / zoom, top = (frame.scrollTop + y) / zoom;
      frame.style.height = next > 1 ? `${picture.clientHeight / zoom}px` : "";
      picture.style.width = `${next * 100}%`;
      zoom = next;
      frame.scrollLeft = left * zoom - x;
      frame.scrollTop = top * zoom - y;
    }

    const middle = () => [frame.clientWidth / 2, frame.clientHeight / 2];
    const zoomBy = (factor) => setZoom(zoom * factor, ...middle());
    const actions = { in: () => zoomBy(STEP), out: () => zoomBy(1 / STEP), whole: () => setZoom(1, 0, 0) };

    for (const button of figure.querySelectorAll("[data-zoom]")) {
      button.addEventListener("click", actions[button.dataset.zoom]);
    }
    frame.addEventListener("wheel", (event) => {
      if (!event.ctrlKey) return;
      event.preventDefault();
      const box = frame.getBoundingClientRect();
      setZoom(zoom * Math.exp(-event.deltaY / 300), event.clientX - box.left, event.clientY - box.top);
    }, { passive: false });
    frame.addEventListener("keydown", (event) => {
      const keys = { "+": actions.in, "=": actions.in, "-": actions.out, "0": actions.whole };
      const moves = { ArrowLeft: [-PAN, 0], ArrowRight: [PAN, 0], ArrowUp: [0, -PAN], ArrowDown: [0, PAN] };
      if (event.ctrlKey || event.metaKey || event.altKey) return;
      if (keys[event.key]) keys[event.key]();
      else if (zoom > 1 && moves[event.key]) frame.scrollBy(...moves[event.key]);
      else return;
      event.preventDefault();
    });
    frame.addEventListener("pointerdown", (event) => {
      if (event.pointerType !== "mouse" || event.button !== 0) return;
      from = { x: event.clientX + frame.scrollLeft, y: event.clientY + frame.scrollTop };
      frame.setPointerCapture(event.pointerId);
      frame.classList.add("held");
    });
    frame.addEventListener("pointermove", (event) => {
      if (from === null) return;
      frame.scrollLeft = from.x - event.clientX;
      frame.scrollTop = from.y - event.clientY;
    });
    for (const end of ["pointerup", "pointercancel"]) {
      frame.addEventListener(end, () => { from = null; frame.classList.remove("held"); });
    }
    window.addEventListener("resize", () => setZoom(1, 0, 0));
    const tools = figure.querySelector(".tools");
    tools.hidden = false;
    frame.tabIndex = 0;
    frame.setAttribute("role", "group");
    frame.setAttribute("aria-label", tools.getAttribute("aria-label"));
    figure.classList.add("live");
  }

  document.querySelectorAll("[data-map]").forEach(makeLive);
})();
