// What the page knows, and who wants to hear when it changes.

export const state = {
  session: null, // facts that do not change
  form: null, // schema of a procedure
  document: null, // file, undo, redo, text, command
  values: {}, // every key of the procedure that is measured now
  plan: {}, // velocity, warnings
  cell: { scan: 0, beam: 0 },
  shown: "thickness",
  scale: { low: 0, high: 10, auto: true },
  limit: NaN,
  layers: {}, // name to Float32Array [scan, beam]
  status: new Uint8Array(0),
  fresh: new Uint8Array(0), // per line: 1 measured by the newest rules, 0 still older
  previewing: false,
  explained: null, // the selected cell
  doubtful: { cells: [], count: 0, reasons: {} },
  reference: null, // { name, thickness, status }
  mode: "one", // one, swipe
  swipe: 0.5,
  truth: null,
  timings: [],
};

const listeners = new Map();

export function on(topic, listener) {
  for (const name of topic.split(" ")) {
    if (!listeners.has(name)) listeners.set(name, []);
    listeners.get(name).push(listener);
  }
}

export function tell(topic) {
  for (const listener of listeners.get(topic) ?? []) listener();
}

export function selectCell(scan, beam) {
  const { scans, beams } = state.session.stack;
  scan = Math.min(scans - 1, Math.max(0, scan));
  beam = Math.min(beams - 1, Math.max(0, beam));
  if (scan === state.cell.scan && beam === state.cell.beam) return;
  state.cell = { scan, beam };
  tell("cell");
}

export const cellIndex = () => state.cell.scan * state.session.stack.beams + state.cell.beam;

export const positionOf = (axis, index) => {
  const positions = axis === "scan" ? state.session.stack.scanPositionsMetres : state.session.stack.indexPositionsMetres;
  return positions ? positions[index] * 1e3 : index;
};

/** The values of what is shown on the map; derived ones are made when asked. */
export function shownValues(name = state.shown) {
  const walls = state.layers.thickness;
  const minus = (other) => (walls && other ? Float32Array.from(walls, (value, i) => value - other[i]) : null);
  if (name === "truth") return state.truth?.thickness ?? null;
  if (name === "error") return minus(state.truth?.thickness);
  if (name === "change") return minus(state.reference?.thickness);
  return state.layers[name] ?? null;
}
