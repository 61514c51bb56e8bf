// Turning a rule: one measurement at a time, the newest wish wins, stale work is stopped. Tiles are shown as they come.
import * as api from "./api.js";
import { state, tell } from "./store.js";

const STRIDE = 8;
const PATIENCE = 150; // milliseconds a run may go on behind its first picture while a newer wish waits
const ALL = ["thickness", "uncertainty", "margin", "runner_up_thickness", "wrong_echo_probability", "snr", "interface_time", "first_echo_time", "second_echo_time"];

let pending = []; // edits that no history holds yet
let running = null;
let wish = null;
let settleTimer = 0;

/** The edits that are being tried, for whoever asks about a cell meanwhile. */
export const tried = () => pending;

/**
 * Tries edits; with a label they become a step of undo. The time is that of the input event, for the measured delay.
 */
export function turn(edits, label = null, time = performance.now()) {
  for (const edit of edits) {
    const replaces = edit.kind === "set" || edit.kind === "clear";
    pending = [...pending.filter((p) => !replaces || p.key !== edit.key || (p.kind !== "set" && p.kind !== "clear")), edit];
  }
  want({ label: label ?? wish?.label ?? null, time, layers: liveLayers(), edits: pending });
  tell("turned");
}

/** Gives up edits that the rules refuse. */
export function giveUp() {
  pending = [];
  tell("turned");
}

/** Measures with the text that the history holds. */
export function again(layers = ALL) {
  want({ label: null, time: performance.now(), layers, edits: pending });
}

function liveLayers() {
  return ALL.includes(state.shown) && state.shown !== "thickness" ? ["thickness", state.shown] : ["thickness"];
}

function want(next) {
  clearTimeout(settleTimer);
  if (wish?.label && !next.label) next.label = wish.label;
  wish = next;
  if (!running) pump();
  else stopWhenSlow(running);
}

/** A run whose first picture is out has a little longer to finish; a slow one makes room for the newer wish. */
function stopWhenSlow(run) {
  if (!run.previewed) return;
  const left = run.shownAt + PATIENCE - performance.now();
  if (left <= 0) run.abort.abort();
  else setTimeout(() => (running === run && wish ? run.abort.abort() : null), left);
}

async function pump() {
  while (wish) {
    const now = wish;
    wish = null;
    running = { abort: new AbortController(), previewed: false };
    try {
      await run(now);
    } catch (error) {
      if (error.name !== "AbortError" && !wish) state.faults(error);
    }
    running = null;
  }
}

async function run(now) {
  const { scans, beams } = state.session.stack;
  const view = state.viewScans?.() ?? { first: 0, count: scans };
  const mine = running;
  let layers = [];
  let ended = null;
  let lines = 0;
  const fresh = new Uint8Array(scans);
  const timing = { full: null, preview: null, server: null, cells: scans * beams, live: now.layers.length < ALL.length };
  const response = await api.post(
    "measure",
    { edits: now.edits, commit: now.label, layers: now.layers, firstScan: view.first, scanCount: view.count },
    mine.abort.signal,
  );
  await api.pieces(response, (kind, bytes) => {
    if (kind === 1) {
      const head = api.json(bytes);
      layers = head.layers;
      begin(head, now, layers);
      state.fresh = fresh;
      state.previewing = true;
    } else if (kind === 2) {
      const part = api.tile(bytes, beams, layers);
      const at = part.first * beams;
      for (const name of layers) state.layers[name].set(part.values[name], at);
      state.status.set(part.status, at);
      fresh.fill(1, part.first, part.first + part.lines);
      lines += part.lines;
      // One line in eight of what is looked at gives the whole picture; from then on newer wishes may stop this run.
      if (!mine.previewed && lines >= Math.ceil(view.count / STRIDE)) {
        mine.previewed = true;
        mine.shownAt = performance.now();
        state.timings.push(timing);
        paintedSince(now.time, (ms) => (timing.preview = ms));
        if (wish) stopWhenSlow(mine);
      }
      tell("tile");
    } else if (kind === 3) {
      ended = api.json(bytes);
    } else if (kind === 4) {
      throw new api.Fault(api.json(bytes).faults);
    }
  });
  if (!ended) throw new DOMException("stopped", "AbortError");
  state.previewing = false;
  tell("tile");
  tell("map");
  paintedSince(now.time, (ms) => {
    Object.assign(timing, { full: ms, preview: timing.preview ?? ms, server: ended.milliseconds });
    if (state.timings.length > 2000) state.timings.splice(0, 1000);
    if (now.edits.length || now.label) tell("answered");
  });
  if (now.layers.length >= ALL.length) tell("settled");
  else settleTimer = setTimeout(() => (wish || running ? null : again()), 250);
}

function begin(head, now, layers) {
  const { scans, beams } = state.session.stack;
  state.values = head.values;
  state.plan = head;
  state.document = head.document;
  if (now.label) pending = pending === now.edits ? [] : pending.filter((p) => !now.edits.includes(p));
  if (state.status.length === 0) state.status = new Uint8Array(scans * beams).fill(7);
  for (const name of layers) state.layers[name] ??= new Float32Array(scans * beams).fill(NaN);
  state.faults(null);
  tell("document");
}

/** Milliseconds from an instant to the end of the frame in which what is known now was painted. */
function paintedSince(time, report) {
  requestAnimationFrame(() => {
    const channel = new MessageChannel();
    channel.port1.onmessage = () => report(performance.now() - time);
    requestAnimationFrame(() => channel.port2.postMessage(0));
  });
}
