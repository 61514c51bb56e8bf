// The map: drawing, zoom, pan, choosing a cell, the border between two maps.
import { byId, clamp, count, el, ink, onceAFrame, rem, trimmed } from "./util.js";
import { on, positionOf, selectCell, shownValues, state, tell } from "./store.js";
import { css, fittedScale, isChange, table, unitOf } from "./colours.js";
import { paint } from "./mappaint.js";

const canvas = byId("map");
const box = byId("map-box");
let view = { scan: 0, beam: 0, zoom: 1 };
let frame = null; // where cells lie on the canvas
let back = null;
let hatch = null;

export const redraw = onceAFrame(draw);

export function initMap() {
  new ResizeObserver(redraw).observe(box);
  on("tile map cell scale reference theme", redraw);
  on("map", refitOnce);
  on("map", missing);
  canvas.addEventListener("pointerdown", pointerDown);
  canvas.addEventListener("wheel", wheel, { passive: false });
  byId("zoom-in").onclick = () => zoomAbout(1.6);
  byId("zoom-out").onclick = () => zoomAbout(1 / 1.6);
  byId("zoom-fit").onclick = fit;
  byId("scale-fit").onclick = () => refit(true);
  for (const id of ["scale-low", "scale-high"]) byId(id).onchange = scaleTyped;
  byId("limit").onchange = () => {
    state.limit = parseFloat(byId("limit").value);
    redraw();
  };
  swipeHandle();
  state.viewScans = () => {
    const { scans } = state.session.stack;
    if (!frame) return { first: 0, count: scans };
    const first = clamp(Math.floor(view.scan), 0, scans - 1);
    return { first, count: clamp(Math.ceil(frame.width / frame.across) + 1, 1, scans - first) };
  };
}

/** Width of a cell over its height on the component. */
function aspect() {
  const { scans, beams, scanPositionsMetres: s, indexPositionsMetres: b } = state.session.stack;
  if (!s || !b || scans < 2 || beams < 2) return 1;
  const ratio = Math.abs((s.at(-1) - s[0]) / (scans - 1)) / Math.abs((b.at(-1) - b[0]) / (beams - 1));
  return Number.isFinite(ratio) && ratio > 0 ? ratio : 1;
}

function layout() {
  const dots = devicePixelRatio || 1;
  const width = Math.max(50, Math.floor(box.clientWidth * dots));
  const height = Math.max(50, Math.floor(box.clientHeight * dots));
  if (canvas.width !== width || canvas.height !== height) Object.assign(canvas, { width, height });
  const text = Math.round(0.72 * rem() * dots);
  const left = Math.round(text * 4.4);
  const bottom = Math.round(text * 2.1);
  const { scans, beams } = state.session.stack;
  const roomX = width - left - text;
  const roomY = height - bottom - Math.round(text / 2);
  // True proportions, unless they would leave most of the room empty.
  let down = roomY / beams;
  let across = down * aspect();
  if (across * scans > roomX) {
    across = roomX / scans;
    down = across / aspect();
  }
  // A tall window gives the rest of its height to the views below.
  const most = Math.ceil(((roomX / scans / aspect()) * beams + bottom + text / 2) / dots + 3.2 * rem());
  document.documentElement.style.setProperty("--map-most", `${most}px`);
  if (down * beams < 0.35 * roomY) down = (0.35 * roomY) / beams;
  if (across * scans < 0.35 * roomX) across = (0.35 * roomX) / scans;
  const mapWidth = Math.min(roomX, Math.round(across * scans * Math.max(1, view.zoom)));
  const mapHeight = Math.min(roomY, Math.round(down * beams * Math.max(1, view.zoom)));
  frame = { left, top: Math.round(text / 2), width: mapWidth, height: mapHeight, across: across * view.zoom, down: down * view.zoom, dots, text };
  view.scan = clamp(view.scan, 0, Math.max(0, scans - mapWidth / frame.across));
  view.beam = clamp(view.beam, 0, Math.max(0, beams - mapHeight / frame.down));
}

function draw() {
  if (!state.session) return;
  layout();
  const context = canvas.getContext("2d");
  const { left, top, width, height } = frame;
  context.clearRect(0, 0, canvas.width, canvas.height);
  context.fillStyle = hatching(context);
  context.fillRect(left, top, width, height);
  const swiping = state.mode === "swipe" && state.reference && !isChange(state.shown);
  const values = shownValues();
  cells(context, values, true);
  if (swiping) {
    const border = Math.round(width * state.swipe);
    context.save();
    context.beginPath();
    context.rect(left, top, border, height);
    context.clip();
    context.fillStyle = hatching(context);
    context.fillRect(left, top, border, height);
    cells(context, state.reference.thickness, false);
    context.restore();
    context.fillStyle = ink("ink");
    context.fillRect(left + border - frame.dots, top, 2 * frame.dots, height);
  }
  outline(context, values);
  axes(context);
  cross(context);
  placeSwipe(swiping);
  scaleBar();
  const preview = byId("preview");
  preview.hidden = !state.previewing;
  if (state.previewing) preview.textContent = "first lines of the new map; the others follow";
}

function cells(context, values, previews) {
  const { left, top, width, height } = frame;
  // Cells larger than dots are painted one dot each and enlarged; smaller ones are gathered dot by dot.
  const { scans, beams } = state.session.stack;
  const large = frame.across >= 1 && frame.down >= 1;
  const first = large ? { scan: Math.floor(view.scan), beam: Math.floor(view.beam) } : view;
  const wide = large ? Math.min(scans, Math.ceil(view.scan + width / frame.across)) - first.scan : width;
  const high = large ? Math.min(beams, Math.ceil(view.beam + height / frame.down)) - first.beam : height;
  if (!back || back.width !== wide || back.height !== high) {
    back = new OffscreenCanvas(Math.max(1, wide), Math.max(1, high));
    back.image = back.getContext("2d").createImageData(back.width, back.height);
  }
  const each = large ? [1, 1] : [1 / frame.across, 1 / frame.down];
  paint(back.image, state.shown, values, { scan: first.scan, beam: first.beam, scansPerDot: each[0], beamsPerDot: each[1] }, previews);
  back.getContext("2d").putImageData(back.image, 0, 0);
  context.save();
  context.beginPath();
  context.rect(left, top, width, height);
  context.clip();
  context.imageSmoothingEnabled = false;
  if (large) context.drawImage(back, left + (first.scan - view.scan) * frame.across, top + (first.beam - view.beam) * frame.down, wide * frame.across, high * frame.down);
  else context.drawImage(back, left, top);
  context.restore();
}

/** Hatching for cells without a wall: no colour of the scale, and not empty. */
function hatching(context) {
  const key = ink("hatch") + ink("hatch-paper") + frame.dots;
  if (hatch?.key === key) return hatch.pattern;
  const size = Math.round(7 * frame.dots);
  const tile = new OffscreenCanvas(size, size);
  const pen = tile.getContext("2d");
  pen.fillStyle = ink("hatch-paper");
  pen.fillRect(0, 0, size, size);
  pen.strokeStyle = ink("hatch");
  pen.lineWidth = 1.1 * frame.dots;
  pen.beginPath();
  for (const shift of [-size, 0, size]) {
    pen.moveTo(shift, size);
    pen.lineTo(shift + size, 0);
  }
  pen.stroke();
  hatch = { key, pattern: context.createPattern(tile, "repeat") };
  return hatch.pattern;
}

/** The edge of what lies below the limit. */
function outline(context, values) {
  if (!Number.isFinite(state.limit) || state.shown !== "thickness" || !values || frame.across < 0.5) return;
  const { scans, beams } = state.session.stack;
  const limit = state.limit / 1e3;
  const below = (s, b) => s >= 0 && b >= 0 && s < scans && b < beams && values[s * beams + b] < limit;
  const { left, top, across, down, width, height } = frame;
  context.save();
  context.beginPath();
  context.rect(left, top, width, height);
  context.clip();
  context.beginPath();
  const lastScan = Math.min(scans - 1, Math.ceil(view.scan + width / across));
  const lastBeam = Math.min(beams - 1, Math.ceil(view.beam + height / down));
  for (let s = Math.floor(view.scan); s <= lastScan; s++) {
    for (let b = Math.floor(view.beam); b <= lastBeam; b++) {
      if (!below(s, b)) continue;
      const x = left + (s - view.scan) * across;
      const y = top + (b - view.beam) * down;
      const line = (x0, y0, x1, y1) => (context.moveTo(x0, y0), context.lineTo(x1, y1));
      if (!below(s - 1, b)) line(x, y, x, y + down);
      if (!below(s + 1, b)) line(x + across, y, x + across, y + down);
      if (!below(s, b - 1)) line(x, y, x + across, y);
      if (!below(s, b + 1)) line(x, y + down, x + across, y + down);
    }
  }
  for (const [colour, pen] of [["#fff", 3.4], ["#111", 1.6]]) {
    context.strokeStyle = colour;
    context.lineWidth = pen * frame.dots;
    context.stroke();
  }
  context.restore();
}

function axes(context) {
  const { left, top, width, height, across, down, dots, text } = frame;
  context.strokeStyle = ink("rule-strong");
  context.lineWidth = dots;
  context.strokeRect(left - dots / 2, top - dots / 2, width + dots, height + dots);
  context.fillStyle = ink("quiet");
  context.font = `${text}px ${ink("plain")}`;
  const { scanPositionsMetres, indexPositionsMetres } = state.session.stack;
  const along = scanPositionsMetres ? "mm along the scan" : "scan position";
  const across_ = indexPositionsMetres ? "mm across" : "beam";
  context.textBaseline = "top";
  context.textAlign = "right";
  context.fillText(along, left + width, top + height + 6 * dots);
  const free = left + width - context.measureText(along).width - text;
  context.textAlign = "center";
  ticks("scan", view.scan, width / across, width / (text * 6), (cell, label) => {
    const x = left + (cell + 0.5 - view.scan) * across;
    context.fillRect(x, top + height, dots, 4 * dots);
    if (x + context.measureText(label).width / 2 < free) context.fillText(label, x, top + height + 6 * dots);
  });
  context.textAlign = "right";
  context.textBaseline = "middle";
  ticks("beam", view.beam, height / down, height / (text * 2.6), (cell, label) => {
    const y = top + (cell + 0.5 - view.beam) * down;
    context.fillRect(left - 4 * dots, y, 4 * dots, dots);
    context.fillText(label, left - 6 * dots, y);
  });
  context.save();
  context.translate(Math.round(text * 0.8), top + height / 2);
  context.rotate(-Math.PI / 2);
  context.textAlign = "center";
  context.fillText(across_, 0, 0);
  context.restore();
}

function ticks(axis, first, cells, most, put) {
  const total = axis === "scan" ? state.session.stack.scans : state.session.stack.beams;
  const from = Math.max(0, Math.ceil(first));
  const to = Math.min(total - 1, Math.floor(first + cells - 1));
  if (to <= from) return;
  const low = positionOf(axis, from);
  const high = positionOf(axis, to);
  const span = Math.abs(high - low) / Math.max(1, most);
  const grain = 10 ** Math.floor(Math.log10(span || 1));
  const step = [1, 2, 5, 10].map((m) => m * grain).find((s) => s >= span) ?? span;
  const marks = [];
  for (let value = Math.ceil(Math.min(low, high) / step) * step; value <= Math.max(low, high) + 1e-9; value += step) {
    const cell = from + ((value - low) / (high - low)) * (to - from);
    marks.push([cell, trimmed(value, 6)]);
  }
  if (low > high) marks.reverse();
  for (const [cell, label] of marks) put(cell, label);
}

function cross(context) {
  const { left, top, width, height, across, down, dots } = frame;
  const x = left + (state.cell.scan - view.scan) * across;
  const y = top + (state.cell.beam - view.beam) * down;
  const w = Math.max(across, 3 * dots);
  const h = Math.max(down, 3 * dots);
  context.save();
  context.beginPath();
  context.rect(left, top, width, height);
  context.clip();
  for (const [colour, pen] of [["#fff", 3], ["#15120c", 1.4]]) {
    context.strokeStyle = colour;
    context.lineWidth = pen * dots;
    context.beginPath();
    const gap = 5 * dots;
    for (const [x0, y0, x1, y1] of [
      [left, y + h / 2, x - gap, y + h / 2],
      [x + w + gap, y + h / 2, left + width, y + h / 2],
      [x + w / 2, top, x + w / 2, y - gap],
      [x + w / 2, y + h + gap, x + w / 2, top + height],
    ]) {
      context.moveTo(x0, y0);
      context.lineTo(x1, y1);
    }
    context.rect(x - dots, y - dots, w + 2 * dots, h + 2 * dots);
    context.stroke();
  }
  context.restore();
}

function cellAt(event) {
  const bounds = canvas.getBoundingClientRect();
  const x = (event.clientX - bounds.left) * frame.dots;
  const y = (event.clientY - bounds.top) * frame.dots;
  return { scan: view.scan + (x - frame.left) / frame.across, beam: view.beam + (y - frame.top) / frame.down };
}

function pointerDown(event) {
  if (event.button !== 0) return;
  canvas.focus({ preventScroll: true });
  const start = cellAt(event);
  const from = { ...view };
  let panned = false;
  canvas.setPointerCapture(event.pointerId);
  const move = (e) => {
    if (!panned && Math.hypot(e.clientX - event.clientX, e.clientY - event.clientY) < 5) return;
    panned = true;
    view = { ...view, scan: from.scan - ((e.clientX - event.clientX) * frame.dots) / frame.across, beam: from.beam - ((e.clientY - event.clientY) * frame.dots) / frame.down };
    redraw();
  };
  canvas.addEventListener("pointermove", move);
  canvas.addEventListener(
    "pointerup",
    () => {
      canvas.removeEventListener("pointermove", move);
      if (!panned) selectCell(Math.floor(start.scan), Math.floor(start.beam));
    },
    { once: true },
  );
}

function wheel(event) {
  event.preventDefault();
  zoomAbout(Math.exp(-event.deltaY / 400), cellAt(event));
}

/** Zooms so that a cell stays where it is. */
export function zoomAbout(ratio, at = { scan: state.cell.scan + 0.5, beam: state.cell.beam + 0.5 }) {
  const before = view.zoom;
  const zoom = clamp(before * ratio, 1, 400);
  view = {
    zoom,
    scan: at.scan - ((at.scan - view.scan) * before) / zoom,
    beam: at.beam - ((at.beam - view.beam) * before) / zoom,
  };
  redraw();
}

export function fit() {
  view = { scan: 0, beam: 0, zoom: 1 };
  redraw();
}

/** Moves the view so that the selected cell can be seen. */
export function reveal() {
  if (!frame) return;
  const wide = frame.width / frame.across;
  const high = frame.height / frame.down;
  if (state.cell.scan < view.scan || state.cell.scan + 1 > view.scan + wide) view.scan = state.cell.scan - wide / 2;
  if (state.cell.beam < view.beam || state.cell.beam + 1 > view.beam + high) view.beam = state.cell.beam - high / 2;
  redraw();
}

let fitted = false;
function refitOnce() {
  if (!fitted) refit(false);
  fitted = true;
}

/** Chooses a scale for what is shown. */
export function refit(byHand) {
  const values = shownValues();
  if (!values) return;
  if (byHand || state.scale.auto || state.scale.name !== state.shown) state.scale = { ...fittedScale(state.shown, values), auto: true, name: state.shown };
  byId("scale-low").value = trimmed(state.scale.low, 3);
  byId("scale-high").value = trimmed(state.scale.high, 3);
  byId("scale-name").textContent = `${byId("layer").selectedOptions[0]?.textContent ?? ""}${unitOf(state.shown) ? ", " + unitOf(state.shown) : ""}`;
  tell("scale");
}

function scaleTyped() {
  const low = parseFloat(byId("scale-low").value);
  const high = parseFloat(byId("scale-high").value);
  if (Number.isFinite(low) && Number.isFinite(high) && high > low) state.scale = { low, high, auto: false, name: state.shown };
  tell("scale");
}

function scaleBar() {
  const bar = byId("scale");
  const context = bar.getContext("2d");
  const colours = table(state.shown);
  for (let i = 0; i < 256; i++) {
    context.fillStyle = css(colours[i]);
    context.fillRect(0, 255 - i, bar.width, 1);
  }
}

function missing() {
  const counts = new Array(state.session.statuses.length).fill(0);
  const walls = state.layers.thickness;
  for (let i = 0; i < state.status.length; i++) if (!(walls[i] > 0) || state.status[i]) counts[state.status[i]]++;
  const total = state.status.length;
  const measured = walls.reduce((n, value) => n + (value === value ? 1 : 0), 0);
  byId("missing").replaceChildren(
    el("li", {}, el("b", {}, `${((100 * measured) / total).toFixed(1)} %`), ` of ${count(total)} cells have a wall.`),
    ...counts
      .map((n, status) => (n && status ? el("li", {}, el("i", { class: status === 4 ? "" : "hatched" }), ` ${state.session.statuses[status]} ${count(n)}`) : null))
      .filter(Boolean),
  );
}

function placeSwipe(swiping) {
  const handle = byId("swipe");
  handle.hidden = !swiping;
  if (!swiping) return;
  handle.style.left = `${(frame.left + frame.width * state.swipe) / frame.dots}px`;
  handle.style.height = `${frame.height / frame.dots}px`;
  handle.style.top = `${frame.top / frame.dots}px`;
  handle.setAttribute("aria-valuenow", Math.round(100 * state.swipe));
  handle.setAttribute("aria-valuetext", `${Math.round(100 * state.swipe)} % ${state.reference.name}`);
}

function swipeHandle() {
  const handle = byId("swipe");
  const set = (value) => {
    state.swipe = clamp(value, 0, 1);
    redraw();
  };
  handle.addEventListener("pointerdown", (event) => {
    handle.setPointerCapture(event.pointerId);
    const move = (e) => set(((e.clientX - box.getBoundingClientRect().left) * frame.dots - frame.left) / frame.width);
    handle.addEventListener("pointermove", move);
    handle.addEventListener("pointerup", () => handle.removeEventListener("pointermove", move), { once: true });
  });
  handle.addEventListener("keydown", (event) => {
    const step = { ArrowLeft: -0.02, ArrowRight: 0.02, Home: -1, End: 1 }[event.key];
    if (step === undefined) return;
    event.preventDefault();
    event.stopPropagation();
    set(state.swipe + step);
  });
}
