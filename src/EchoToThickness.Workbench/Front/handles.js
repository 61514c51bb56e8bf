// Rules that are turned on the A-scan itself. A handle is a slider: dragged, or moved with the arrow keys.
import { byId, clamp, el, quantity, scaledLevel, trimmed, withUnit } from "./util.js";
import { state } from "./store.js";
import { turn } from "./measure.js";
import { metresOf, timeOfWall } from "./strip.js";

const LEAST_WIDTH = 0.02e-6;
let held = null; // id of the handle that is being dragged
const nodes = new Map();

const set = (key, value) => ({ kind: "set", key, value });

/** Every handle for the cell that is shown: id, words, axis, value (seconds or fraction), step, limits, and the edits of a new value. */
function handles() {
  const told = state.explained;
  const cell = told.explained;
  const list = [];
  const last = told.startSeconds + told.raw.length / told.sampleRateHz;
  const velocity = cell.velocity.metres_per_second;
  cell.gates.forEach((gate) => {
    const k = gateNumber(gate.name);
    if (!k) return;
    const key = (name) => `gate[${k}].${name}`;
    const start = quantity(state.values[key("start")]);
    const width = quantity(state.values[key("width")]);
    if (!start || !width) return;
    const seconds = (q) => (q.isLength ? (2 * q.value) / velocity : q.value);
    const text = (q, s) => withUnit(q.isLength ? (s * velocity) / 2 : s, q.unit);
    const follows = gate.start_seconds - seconds(start);
    list.push({
      id: key("start"), label: `Start of gate ${gate.name}`, axis: "x", kind: "edge", value: gate.start_seconds, step: 0.01e-6, low: follows - 5e-6, high: gate.end_seconds - LEAST_WIDTH,
      edits: (v) => [set(key("start"), text(start, v - follows)), set(key("width"), text(width, gate.end_seconds - v))],
    });
    list.push({
      id: key("width"), label: `End of gate ${gate.name}`, axis: "x", kind: "edge", value: gate.end_seconds, step: 0.01e-6, low: gate.start_seconds + LEAST_WIDTH, high: last,
      edits: (v) => [set(key("width"), text(width, v - gate.start_seconds))],
    });
    list.push({
      id: key("move"), label: `Gate ${gate.name}`, axis: "x", kind: "name", name: gate.name, value: gate.start_seconds, step: 0.01e-6, low: follows - 5e-6, high: last,
      edits: (v) => [set(key("start"), text(start, v - follows))],
    });
    if (gate.level_fraction > 0)
      list.push({
        id: key("level"), label: `Level of gate ${gate.name}`, axis: "y", kind: "level", at: (gate.start_seconds + gate.end_seconds) / 2, value: gate.level_fraction, ratio: 1.05, low: 1e-4, high: 1,
        edits: level(key("level"), gate.level_fraction),
      });
  });
  const front = cell.interface;
  const train = state.values["pairing.rule"] === "train";
  if (front.search_start_seconds !== null)
    for (const [name, value, words] of [["search_start", front.search_start_seconds, "Start"], ["search_end", front.search_end_seconds, "End"]])
      list.push({
        id: "interface." + name, label: `${words} of the search for the interface`, axis: "x", kind: "search", value, step: 0.02e-6, low: told.startSeconds, high: last,
        edits: (v) => [set("interface." + name, withUnit(v, "us"))],
      });
  if (front.level_fraction > 0)
    list.push({
      id: "interface.level", label: "Level of the interface", axis: "y", kind: "level", at: (front.seconds ?? front.search_end_seconds) - 0.35e-6, value: front.level_fraction, ratio: 1.05, low: 1e-3, high: 1, front: true,
      edits: level(train ? "train.interface_fraction" : "interface.level", front.level_fraction, train),
    });
  if (train && told.candidateLevelFraction > 0) {
    const multiple = Number(state.values["train.candidate_level"]);
    list.push({
      id: "train.candidate_level", label: "Level of candidate echoes", axis: "y", kind: "level", at: Infinity, value: told.candidateLevelFraction, ratio: 1.05, low: 1e-5, high: 0.5,
      edits: (v) => [set("train.candidate_level", trimmed(clamp((multiple * v) / told.candidateLevelFraction, 1, 50), 2))],
    });
  }
  for (const [name, words] of [["minimum", "Thinnest"], ["maximum", "Thickest"]]) {
    const value = timeOfWall(told, metresOf("wall." + name));
    if (Number.isFinite(value))
      list.push({
        id: "wall." + name, label: `${words} wall that is looked for`, axis: "x", kind: "range", value, step: (2 * 0.05e-3) / velocity, low: front.seconds, high: front.seconds + 1e-3,
        edits: (v) => [set("wall." + name, withUnit(Math.max(0.1e-3, ((v - front.seconds - (told.zeroSeconds ?? 0)) * velocity) / 2), "mm"))],
      });
  }
  return list;
}

/** Edits of a level; its text is taken now, so that a drag always starts from the same one. */
function level(key, fraction, isPlainFraction = false) {
  const before = state.values[key];
  return (v) => {
    if (isPlainFraction) return [set(key, `${trimmed(clamp((parseFloat(before) * v) / fraction, 1, 100), 2)} %`)];
    const text = scaledLevel(before, v / fraction);
    return text === null ? [] : [set(key, text)];
  };
}

const gateNumber = (name) => {
  for (let k = 1; k < 50; k++) if (state.values[`gate[${k}].name`] === name) return k;
  return 0;
};

/** Puts the handles where they belong; those that stay keep their element, so that a drag and the focus live on. */
export function placeHandles(plot) {
  const box = byId("handles");
  if (!state.explained || !plot) return box.replaceChildren();
  const dots = devicePixelRatio || 1;
  const area = { left: plot.bbox.left / dots, top: plot.bbox.top / dots, width: plot.bbox.width / dots, height: plot.bbox.height / dots };
  const seen = new Set();
  for (const handle of handles()) {
    const x = area.left + plot.valToPos((handle.axis === "x" ? handle.value : handle.at) * 1e6, "x");
    const y = area.top + plot.valToPos(handle.value * 100, "y");
    const inX = handle.at === Infinity || (x >= area.left - 1 && x <= area.left + area.width + 1);
    if (!inX || (handle.axis === "y" && (y < area.top || y > area.top + area.height))) {
      if (held !== handle.id) continue;
    }
    seen.add(handle.id);
    let node = nodes.get(handle.id);
    if (!node) {
      node = make();
      nodes.set(handle.id, node);
      box.append(node);
    }
    node.handle = handle;
    node.plot = plot;
    node.className = `handle ${handle.kind} ${handle.axis}${handle.front ? " front" : ""}`;
    if (handle.kind === "name") node.textContent = handle.name;
    node.style.left = `${handle.at === Infinity ? area.left + area.width - 8 : x}px`;
    node.style.top = `${handle.axis === "y" ? y : handle.kind === "name" ? area.top : handle.kind === "range" ? area.top + area.height - 6 : handle.kind === "search" ? area.top + 12 : area.top + area.height / 2}px`;
    node.setAttribute("aria-label", handle.label);
    node.setAttribute("aria-valuenow", trimmed(handle.axis === "x" ? handle.value * 1e6 : handle.value * 100, 3));
    node.setAttribute("aria-valuetext", spoken(handle));
    node.title = `${handle.label}: ${spoken(handle)}`;
  }
  for (const [id, node] of nodes) {
    if (seen.has(id)) continue;
    node.remove();
    nodes.delete(id);
  }
}

const spoken = (handle) => {
  const own = state.values[handle.id] ?? (handle.id === "interface.level" ? state.values["train.interface_fraction"] : null);
  return own ?? (handle.axis === "x" ? trimmed(handle.value * 1e6, 3) + " µs" : trimmed(handle.value * 100, 2) + " %");
};

function make() {
  const node = el("div", { role: "slider", tabIndex: 0 });
  node.addEventListener("pointerdown", (event) => drag(node, event));
  node.addEventListener("keydown", (event) => key(node, event));
  return node;
}

function drag(node, event) {
  if (event.button !== 0) return;
  event.preventDefault();
  event.stopPropagation();
  node.focus({ preventScroll: true });
  node.setPointerCapture(event.pointerId);
  // What was true when the drag began: the cell changes under the hand, and edits must not run away with it.
  const { handle, plot } = node;
  held = handle.id;
  const origin = handle.axis === "x" ? event.clientX : event.clientY;
  let last = null;
  const unit = handle.axis === "x" ? 1e6 : 100;
  const from = plot.valToPos(handle.value * unit, handle.axis);
  const valueAt = (e) => {
    const at = plot.posToVal(from + (handle.axis === "x" ? e.clientX : e.clientY) - origin, handle.axis) / unit;
    return clamp(at, handle.low, handle.high);
  };
  const move = (e) => {
    last = handle.edits(valueAt(e));
    turn(last, null, e.timeStamp);
  };
  const up = (e) => {
    node.removeEventListener("pointermove", move);
    node.removeEventListener("pointerup", up);
    node.removeEventListener("pointercancel", up);
    held = null;
    if (last) turn(last, `${handle.label} moved`, e.timeStamp);
  };
  node.addEventListener("pointermove", move);
  node.addEventListener("pointerup", up);
  node.addEventListener("pointercancel", up);
}

function key(node, event) {
  const direction = { ArrowLeft: -1, ArrowDown: -1, ArrowRight: 1, ArrowUp: 1 }[event.key];
  if (!direction) return;
  event.preventDefault();
  event.stopPropagation();
  const { handle } = node;
  const much = event.shiftKey ? 10 : 1;
  const value = handle.ratio ? handle.value * handle.ratio ** (direction * much) : handle.value + direction * much * handle.step;
  const edits = handle.edits(clamp(value, handle.low, handle.high));
  if (edits.length) turn(edits, `${handle.label} moved`, event.timeStamp);
}
