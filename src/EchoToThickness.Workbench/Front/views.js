// Views that open on demand, all about the selected cell: sections along and across, profiles, histogram, error against the truth.
import * as api from "./api.js";
import uPlot from "./vendor/uplot.js";
import { byId, count, el, ink, millimetres, rem } from "./util.js";
import { cellIndex, on, positionOf, selectCell, shownValues, state } from "./store.js";

const VIEWS = [
  ["scan", "Section along the scan", section],
  ["beam", "Section across", section],
  ["profiles", "Profiles", profiles],
  ["histogram", "Histogram", histogram],
  ["error", "Error against the truth", error],
];
const open = new Map(); // id to { box, update }

export function initViews() {
  for (const [id, title, make] of VIEWS) {
    if (id === "error" && !state.session.truth) continue;
    const button = el("button", { type: "button", "aria-pressed": "false", id: "view-" + id, onclick: () => toggle(id, title, make, button) }, title);
    byId("view-buttons").append(button);
  }
  on("cell map", () => update());
  on("theme", () => update());
  addEventListener("resize", () => update());
}

function toggle(id, title, make, button) {
  if (open.has(id)) {
    open.get(id).box.remove();
    open.delete(id);
  } else {
    const box = el("figure", { class: "view " + id }, el("figcaption", {}, title));
    byId("view-list").append(box);
    open.set(id, { box, update: make(box, id) });
    box.scrollIntoView({ block: "nearest" });
  }
  button.setAttribute("aria-pressed", String(open.has(id)));
  update();
}

let waiting = false;
function update() {
  if (waiting || !open.size) return;
  waiting = true;
  requestAnimationFrame(() => {
    waiting = false;
    for (const view of open.values()) view.update();
  });
}

/** Stored samples of the cells about this one: time downwards, grey by amplitude, with the picks drawn over it. */
function section(box, axis) {
  const canvas = el("canvas", { tabIndex: -1 });
  const words = el("p", {});
  box.append(canvas, words);
  let data = null;
  let asked = "";
  canvas.addEventListener("click", (event) => {
    if (!data) return;
    const at = data.first + Math.floor((event.offsetX / canvas.clientWidth) * data.count);
    if (axis === "scan") selectCell(at, state.cell.beam);
    else selectCell(state.cell.scan, at);
  });
  const draw = () => {
    if (!data) return;
    const dots = devicePixelRatio || 1;
    Object.assign(canvas, { width: Math.round(canvas.clientWidth * dots), height: Math.round(canvas.clientHeight * dots) });
    const told = state.explained;
    const rate = told?.sampleRateHz ?? state.session.stack.sampleRateHz;
    const start = told?.startSeconds ?? state.session.stack.startSeconds;
    const context = canvas.getContext("2d");
    const image = context.createImageData(data.count, data.samples);
    const pixels = new Uint32Array(image.data.buffer);
    const dark = document.documentElement.dataset.dark === "true";
    for (let i = 0; i < data.count; i++)
      for (let k = 0; k < data.samples; k++) {
        const value = data.bytes[i * data.samples + k];
        const strength = value === -128 ? 0 : Math.min(1, Math.sqrt(Math.abs(value) / 90));
        const grey = Math.round(dark ? 28 + 220 * strength : 252 - 225 * strength);
        pixels[k * data.count + i] = value === -128 ? 0 : (255 << 24) | (grey << 16) | (grey << 8) | grey;
      }
    const small = new OffscreenCanvas(data.count, data.samples);
    small.getContext("2d").putImageData(image, 0, 0);
    context.imageSmoothingEnabled = false;
    context.drawImage(small, 0, 0, canvas.width, canvas.height);
    const { beams } = state.session.stack;
    const wide = canvas.width / data.count;
    for (const [layer, colour] of [["interface_time", "front"], ["first_echo_time", "pair"], ["second_echo_time", "rival"]]) {
      const values = state.layers[layer];
      if (!values) continue;
      context.fillStyle = ink(colour);
      for (let i = 0; i < data.count; i++) {
        const cell = axis === "scan" ? (data.first + i) * beams + state.cell.beam : state.cell.scan * beams + data.first + i;
        const y = ((values[cell] - start) * rate * canvas.height) / data.samples;
        if (y >= 0) context.fillRect(i * wide, y - dots, Math.max(wide, dots), 2 * dots);
      }
    }
    const here = (axis === "scan" ? state.cell.scan : state.cell.beam) - data.first;
    context.strokeStyle = ink("accent");
    context.lineWidth = 1.5 * dots;
    context.strokeRect(here * wide - dots, 0, wide + 2 * dots, canvas.height);
    words.textContent = `Cells ${data.first} to ${data.first + data.count - 1}; time downwards, ${(start * 1e6).toFixed(2)} to ${((start + data.samples / rate) * 1e6).toFixed(2)} µs. Marks: interface, back-wall echo 1, back-wall echo 2.`;
  };
  return async () => {
    const { scan, beam } = state.cell;
    // The section itself moves only with the cell's other coordinate, or when the cell leaves it.
    const along = axis === "scan" ? scan : beam;
    const inside = data && along >= data.first && along < data.first + data.count;
    const key = (axis === "scan" ? beam : scan) + (inside ? "" : `:${along}`);
    if (!inside || asked !== key) {
      asked = axis === "scan" ? String(beam) : String(scan);
      const next = {};
      try {
        await api.pieces(await api.post("section", { axis, scan, beam, cells: 161 }), (kind, bytes) => {
          if (kind === 1) Object.assign(next, api.json(bytes));
          if (kind === 5) next.bytes = new Int8Array(bytes.buffer, bytes.byteOffset, bytes.length);
        });
      } catch (fault) {
        state.faults(fault);
        return;
      }
      data = next;
    }
    draw();
  };
}

function plotOf(box, title, height, series) {
  const text = Math.round(0.72 * rem());
  const font = `${text}px ${ink("plain")}`;
  const axis = { font, labelFont: font, stroke: ink("quiet"), grid: { stroke: ink("rule"), width: 1 }, ticks: { stroke: ink("rule"), width: 1 }, labelSize: text * 1.5 };
  return (data, label) =>
    new uPlot(
      { width: Math.max(200, box.clientWidth - 2), height, legend: { show: false }, cursor: { points: { show: false }, drag: { x: false, y: false } }, scales: { x: { time: false } }, series: [{}, ...series], axes: [{ ...axis, label, size: text * 2.7 }, { ...axis, label: title, size: text * 4.2 }] },
      data,
      box,
    );
}

/** The wall along the scan and across it, through the cell; with the map compared with and the truth, where there are any. */
function profiles(box) {
  const boxes = ["scan", "beam"].map(() => el("div", {}));
  box.append(el("div", { class: "pair-of-charts" }, ...boxes), el("p", {}, "Solid: the wall now. Dashed: the map compared with. Dotted: the truth."));
  return () => {
    const { scans, beams } = state.session.stack;
    for (const [i, axis] of ["scan", "beam"].entries()) {
      const n = axis === "scan" ? scans : beams;
      const index = (k) => (axis === "scan" ? k * beams + state.cell.beam : state.cell.scan * beams + k);
      const pick = (values) => Array.from({ length: n }, (_, k) => (values && values[index(k)] === values[index(k)] ? values[index(k)] * 1e3 : null));
      boxes[i].replaceChildren();
      const plot = plotOf(boxes[i], "wall, mm", Math.round(9 * rem()), [
        { stroke: ink("pair"), width: 1.6, spanGaps: false, points: { show: false } },
        { stroke: ink("rival"), width: 1.4, dash: [6, 4], points: { show: false } },
        { stroke: ink("ink"), width: 1, dash: [2, 3], points: { show: false } },
      ]);
      plot([Array.from({ length: n }, (_, k) => positionOf(axis, k)), pick(state.layers.thickness), pick(state.reference?.thickness), pick(state.truth?.thickness)], axis === "scan" ? "along the scan" : "across");
    }
  };
}

/** How many cells show which value of the layer on the map. */
function histogram(box) {
  const holder = el("div", {});
  const words = el("p", {});
  box.append(holder, words);
  return () => {
    const values = shownValues();
    if (!values) return;
    const inMetres = !["margin", "wrong_echo_probability", "snr"].includes(state.shown);
    draw(holder, words, values, inMetres ? 1e3 : 1, inMetres ? "mm" : "", state.scale.low, state.scale.high);
  };
}

function draw(holder, words, values, factor, unit, low, high) {
  const bins = 80;
  const counts = new Array(bins).fill(0);
  let n = 0;
  let outside = 0;
  for (const value of values) {
    if (value !== value) continue;
    n++;
    const bin = Math.floor(((value * factor - low) / (high - low)) * bins);
    if (bin >= 0 && bin < bins) counts[bin]++;
    else outside++;
  }
  holder.replaceChildren();
  const plot = plotOf(holder, "cells", Math.round(10 * rem()), [{ stroke: ink("pair"), fill: ink("pair-wash"), width: 1.2, paths: uPlot.paths.bars({ size: [1, 100] }), points: { show: false } }]);
  plot([counts.map((_, i) => low + ((i + 0.5) * (high - low)) / bins), counts], unit);
  const here = values[cellIndex()];
  words.textContent = `${count(n)} cells, ${count(outside)} outside the colour scale. This cell: ${here === here ? (here * factor).toFixed(3) + " " + unit : "no value"}.`;
}

function error(box) {
  const holder = el("div", {});
  const words = el("p", {});
  box.append(holder, words);
  return () => {
    if (!state.truth || !state.layers.thickness) return;
    const errors = shownValues("error");
    const sound = Array.from(errors).filter((v) => v === v);
    if (!sound.length) return;
    const gross = sound.filter((v) => Math.abs(v) > 0.5e-3).length;
    const fine = sound.filter((v) => Math.abs(v) <= 0.5e-3);
    const rms = Math.sqrt(fine.reduce((sum, v) => sum + v * v, 0) / Math.max(1, fine.length));
    const most = Math.max(0.05, 5 * rms * 1e3);
    const own = el("p", {});
    draw(holder, own, errors, 1e3, "mm", -most, most);
    words.textContent = `${count(sound.length)} cells with wall and truth; ${count(gross)} off by more than 0.5 mm; root mean square of the others ${millimetres(rms)}. ${own.textContent}`;
  };
}
