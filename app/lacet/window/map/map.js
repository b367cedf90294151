"use strict";
// The map's page: draws what messages say and tells what was clicked or hovered. It keeps no state of the
// trip beyond the last message. Names are set as text, never as markup.
const lacet = (() => {
  const HOUSES_FROM_ZOOM = 12.5, GROUND_FROM_ZOOM = 11, MOST_GROUND_NAMES = 150, GAP = 4;
  let map, bridge, panes = {}, layers = {}, lines = new Map(), scene = null, ground = [];
  let spot = null, bounds = null, home = null, words = null, asked = 0, bar = null;

  const element = (kind, name, text) => {
    const made = document.createElement(kind);
    made.className = name;
    if (text !== undefined) made.textContent = text;
    return made;
  };
  const icon = (content) => L.divIcon({ html: content, className: "", iconSize: [0, 0] });
  const marker = (at, content, pane) =>
    L.marker(at, { icon: icon(content), pane, interactive: false, keyboard: false });

  function begin(made) {
    map = made;
    const frame = map.getContainer();
    frame.setAttribute("role", "application");
    frame.setAttribute("aria-label", "Map of the trip. Arrow keys move it, plus and minus zoom, 0 shows the whole trip.");
    // Under the squares of a base map, which Leaflet lays at 200: the relief shows where there are none.
    for (const [name, z] of [["ground", 150], ["dots", 410], ["lines", 420], ["marks", 620], ["names", 610], ["spot", 650]])
      (panes[name] = map.createPane(name)).style.zIndex = z;
    panes.names.style.pointerEvents = "none";
    panes.lines.style.pointerEvents = "none";
    for (const name of ["relief", "tiles", "dots", "lines", "marks"]) layers[name] = L.layerGroup().addTo(map);
    layers.renderer = L.svg({ pane: "lines", padding: 0.5 });
    addControls();
    map.on("zoomstart", () => (panes.names.style.visibility = "hidden"));
    map.on("moveend zoomend resize", name_all);
    map.on("resize", () => map.touched || fit());
    map.on("dragstart keydown zoomstart", () => (map.touched = !map.fitting));
    frame.addEventListener("keydown", (event) => event.key === "0" && fit());
    new QWebChannel(qt.webChannelTransport, (channel) => {
      bridge = channel.objects.lacet;
      bridge.tell_ready();
    });
  }

  function addControls() {
    L.control.zoom({ position: "topright", zoomInTitle: "Zoom in (+)", zoomOutTitle: "Zoom out (−)" }).addTo(map);
    const whole = L.control({ position: "topright" });
    whole.onAdd = () => {
      const bar = element("div", "leaflet-bar"), button = element("a", "");
      button.href = "#";
      button.title = "Whole trip (0)";
      button.setAttribute("role", "button");
      button.setAttribute("aria-label", "Whole trip");
      button.innerHTML = '<svg width="14" height="14" viewBox="0 0 14 14" fill="none" stroke="currentColor" stroke-width="1.6"><path d="M1 5V1h4M9 1h4v4M13 9v4H9M5 13H1V9"/></svg>';
      L.DomEvent.on(button, "click", (event) => { L.DomEvent.stop(event); fit(); });
      bar.append(button);
      return bar;
    };
    whole.addTo(map);
    scale(false);
    const said = L.control({ position: "bottomright" });
    said.onAdd = () => (words = element("div", "words"));
    said.addTo(map);
  }

  // Miles and feet, or kilometres and metres, as all other figures of the window.
  function scale(imperial) {
    if (bar && bar.options.imperial === imperial) return;
    if (bar) bar.remove();
    bar = L.control.scale({ position: "bottomleft", imperial, metric: !imperial, maxWidth: 110 }).addTo(map);
  }

  // --- messages

  function dress(colours) {
    for (const [name, value] of Object.entries(colours)) document.documentElement.style.setProperty("--" + name, value);
    name_all();
  }

  function showGround(message) {
    layers.relief.clearLayers();
    for (const each of message.relief)
      L.imageOverlay(each.picture, [[each.south, each.west], [each.north, each.east]], { pane: "ground" }).addTo(layers.relief);
    layers.tiles.clearLayers();
    if (message.tiles)
      L.tileLayer(message.tiles.url, { maxZoom: 19, maxNativeZoom: message.tiles.most ?? 19 }).addTo(layers.tiles);
    ground = message.places;
    words.textContent = message.words;
    home = message.bounds;
    if (!bounds) fit();
    name_all();
  }

  function draw(message) {
    scene = message.scene;
    scale(message.imperial);
    for (const [key, line] of Object.entries(scene.lines)) lines.set(key, line);
    layers.lines.clearLayers();
    layers.marks.clearLayers();
    bounds = scene.bounds;
    for (const ride of scene.rides) stroke(ride.ends, "ride", ride.day);
    for (const leg of scene.others) stroke(lines.get(leg.line), "other " + leg.way, leg.day);
    for (const leg of scene.legs) stroke(lines.get(leg.line), "casing", leg.day);
    for (const leg of scene.legs) stroke(lines.get(leg.line), "way " + leg.way, leg.day);
    for (const leg of scene.legs) reach(leg);
    for (const each of scene.waypoints) marker(each.at, element("div", "dot"), "marks").addTo(layers.marks);
    for (const each of scene.others) other(each);
    for (const each of scene.stops) stop(each);
    select(scene.selected);
    if (message.fit) fit();
    name_all();
  }

  function stroke(line, className, day) {
    const made = L.polyline(line, { renderer: layers.renderer, className, interactive: false, smoothFactor: 0.6 });
    made.day = day;
    made.addTo(layers.lines);
  }

  function reach(leg) {
    const made = L.polyline(lines.get(leg.line), { renderer: layers.renderer, className: "reach", smoothFactor: 1 });
    made.addTo(layers.lines);
    made.on("click", () => bridge.pick_day(leg.day));
    made.on("mousemove", (event) => hover(leg, event.latlng));
    made.on("mouseout", () => { asked = 0; bridge.leave_leg(); });
  }

  // One question a frame at most: the mouse tells more than anybody can see.
  function hover(leg, at) {
    const waiting = asked;
    asked = [leg, at];
    if (!waiting)
      requestAnimationFrame(() => {
        if (asked) bridge.hover_leg(asked[0].day, asked[0].group, asked[0].leg, asked[1].lat, asked[1].lng);
        asked = 0;
      });
  }

  function stop(each) {
    const pill = element("div", "stop");
    for (const day of each.days) {
      const button = element("button", "", String(day + 1));
      button.dataset.day = day;
      button.setAttribute("aria-label", `Day ${day + 1} ends here${each.name ? ": " + each.name : ""}`);
      L.DomEvent.on(button, "click", (event) => { L.DomEvent.stop(event); bridge.pick_day(day); });
      L.DomEvent.disableClickPropagation(button);
      pill.append(button);
    }
    each.pill = pill;
    each.marker = marker(each.at, pill, "marks").addTo(layers.marks);
  }

  // The sign of another way: what it is stands in its tip, as text.
  function other(each) {
    const sign = element("button", "sign", "◇");
    sign.title = each.name;
    sign.setAttribute("aria-label", each.name);
    L.DomEvent.on(sign, "click", (event) => { L.DomEvent.stop(event); bridge.pick_day(each.day); });
    L.DomEvent.disableClickPropagation(sign);
    marker(each.mark, sign, "marks").setZIndexOffset(300).addTo(layers.marks);
  }

  function select(day) {
    panes.lines.classList.toggle("some", day !== null && scene !== null && scene.legs.concat(scene.rides).some((leg) => leg.day === day));
    layers.lines.eachLayer((line) => {
      const path = line.getElement();
      if (path && line.day !== undefined) path.classList.toggle("chosen", line.day === day);
      if (line.day === day) line.bringToFront();
    });
    // What can be clicked stays above what is seen.
    layers.lines.eachLayer((line) => line.day === undefined && line.bringToFront());
    for (const each of scene ? scene.stops : []) {
      for (const button of each.pill.children) {
        const on = Number(button.dataset.day) === day;
        button.classList.toggle("chosen", on);
        button.setAttribute("aria-pressed", String(on));
      }
      each.marker.setZIndexOffset(each.days.includes(day) ? 1000 : 500);
    }
  }

  function mark(at) {
    if (at === null) {
      if (spot) spot.remove();
      spot = null;
    } else if (spot) spot.setLatLng(at);
    else spot = marker(at, element("div", "spot"), "spot").addTo(map);
  }

  function fit() {
    const all = bounds || home;
    if (!all) return;
    const { x: width, y: height } = map.getSize(), above = Math.min(26, height * 0.07);
    map.fitting = true;
    // The last quarter of a step matters in a low window; buttons and keys go in quarters again.
    map.options.zoomSnap = 0;
    map.fitBounds(all, { paddingTopLeft: [Math.min(40, width * 0.06), above + 6], paddingBottomRight: [64, above], maxZoom: 13, animate: false });
    map.options.zoomSnap = 0.25;
    map.fitting = map.touched = false;
  }

  // --- names: the most important first, each where nothing else stands

  function name_all() {
    if (!map || !map._loaded) return;
    panes.names.replaceChildren();
    layers.dots.clearLayers();
    panes.names.style.visibility = "";
    const taken = [], zoom = map.getZoom();
    for (const each of scene ? scene.stops : []) taken.push(boxOf(each.at, each.pill.offsetWidth, 22));
    taken.push(...controls());
    for (const each of wanted(zoom)) {
      if (each.dot) marker(each.at, element("div", each.dot), "dots").addTo(layers.dots);
      place(each, taken);
    }
  }

  function wanted(zoom) {
    if (!scene) return [];
    const found = scene.stops.filter((each) => each.name).map((each) => ({ at: each.at, name: each.name, kind: "stop-name", clear: each.pill.offsetWidth / 2 + GAP + 1 }));
    found.push(...scene.waypoints.map((each) => ({ at: each.at, name: each.name, kind: "waypoint", clear: 8 })));
    if (zoom >= HOUSES_FROM_ZOOM)
      found.push(...scene.houses.map((each) => ({ at: each.at, name: each.name, kind: "house-name", clear: 8, dot: "house" })));
    if (zoom >= GROUND_FROM_ZOOM) {
      const seen = map.getBounds().pad(0.05), known = new Set(found.map((each) => String(each.at)));
      found.push(...ground.filter((each) => seen.contains(each.at) && !known.has(String(each.at))).slice(0, MOST_GROUND_NAMES)
        .map((each) => ({ at: each.at, name: each.name, kind: "ground", clear: 6, dot: "ground-dot" })));
    }
    return found;
  }

  // Where the zoom buttons stand, in the same measure as the names.
  function controls() {
    const size = map.getSize(), corner = map.containerPointToLayerPoint([size.x - 44, 0]);
    return [[corner.x, corner.y, corner.x + 44, corner.y + 106]];
  }

  function boxOf(at, width, height) {
    const centre = map.latLngToLayerPoint(at);
    return [centre.x - width / 2, centre.y - height / 2, centre.x + width / 2, centre.y + height / 2];
  }

  function place(each, taken) {
    const label = element("div", "name " + each.kind, each.name);
    panes.names.append(label);
    const at = map.latLngToLayerPoint(each.at), width = label.offsetWidth, height = label.offsetHeight;
    const spots = [
      [at.x + each.clear, at.y - height / 2], [at.x - each.clear - width, at.y - height / 2],
      [at.x - width / 2, at.y - height - 12], [at.x - width / 2, at.y + 12],
    ];
    for (const [x, y] of spots) {
      const box = [x - GAP, y - 1, x + width + GAP, y + height + 1];
      if (inside(box) && !taken.some((other) => meets(box, other))) {
        taken.push(box);
        L.DomUtil.setPosition(label, L.point(Math.round(x), Math.round(y)));
        return;
      }
    }
    label.remove();
  }

  function inside(box) {
    const corner = map.containerPointToLayerPoint([0, 0]), size = map.getSize();
    return box[0] >= corner.x && box[1] >= corner.y && box[2] <= corner.x + size.x && box[3] <= corner.y + size.y;
  }

  const meets = (a, b) => a[0] < b[2] && b[0] < a[2] && a[1] < b[3] && b[1] < a[3];

  return { begin, dress, ground: showGround, draw, select, mark };
})();
