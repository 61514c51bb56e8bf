// Colours of cells. The wall scale comes from the program (light and yellow is thin, dark and blue is thick: the order is in
// lightness); differences go from orange over grey to blue, equally light on both sides.
import { state } from "./store.js";

let wall = null;
let change = null;

const pack = (r, g, b) => (255 << 24) | (b << 16) | (g << 8) | r;

function tables() {
  const parts = state.session.wallColours;
  wall = new Uint32Array(256);
  for (let i = 0; i < 256; i++) wall[i] = pack(parts[3 * i], parts[3 * i + 1], parts[3 * i + 2]);
  change = new Uint32Array(256);
  for (let i = 0; i < 256; i++) {
    const side = (i - 127.5) / 127.5; // below: thinner
    const lightness = 0.93 - 0.5 * Math.abs(side);
    const chroma = 0.15 * Math.sqrt(Math.abs(side));
    const hue = side < 0 ? (50 * Math.PI) / 180 : (262 * Math.PI) / 180;
    change[i] = pack(...fromOkLab(lightness, chroma * Math.cos(hue), chroma * Math.sin(hue)));
  }
}

// B. Ottosson, "A perceptual color space for image processing", 2020.
function fromOkLab(L, a, b) {
  const l = (L + 0.3963377774 * a + 0.2158037573 * b) ** 3;
  const m = (L - 0.1055613458 * a - 0.0638541728 * b) ** 3;
  const s = (L - 0.0894841775 * a - 1.291485548 * b) ** 3;
  const channel = (v) => Math.round(255 * Math.min(1, Math.max(0, v <= 0.0031308 ? 12.92 * v : 1.055 * v ** (1 / 2.4) - 0.055)));
  return [
    channel(4.0767416621 * l - 3.3077115913 * m + 0.2309699292 * s),
    channel(-1.2684380046 * l + 2.6097574011 * m - 0.3413193965 * s),
    channel(-0.0041960863 * l - 0.7034186147 * m + 1.707614701 * s),
  ];
}

export const isChange = (name) => name === "error" || name === "change";

/** 256 colours for a layer, packed as the bytes of a canvas. */
export function table(name) {
  if (!wall) tables();
  return isChange(name) ? change : wall;
}

export const css = (packed) => `rgb(${packed & 255} ${(packed >> 8) & 255} ${(packed >> 16) & 255})`;

/** Layers whose small values are the ones to see when several cells share a dot. */
export const smallMatters = (name) => !["uncertainty", "wrong_echo_probability"].includes(name);

export const unitOf = (name) => {
  if (isChange(name) || name === "truth") return "mm";
  const unit = state.session.layers.find((l) => l.name === name)?.unit ?? "m";
  return unit === "m" ? "mm" : unit === "s" ? "µs" : unit === "1" ? "" : unit;
};
export const factorOf = (name) => (unitOf(name) === "mm" ? 1e3 : unitOf(name) === "µs" ? 1e6 : 1);

/** A scale that holds all but the wildest values. */
export function fittedScale(name, values) {
  const factor = factorOf(name);
  const sample = [];
  const step = Math.max(1, Math.floor(values.length / 20000));
  for (let i = 0; i < values.length; i += step) if (Number.isFinite(values[i])) sample.push(values[i] * factor);
  if (!sample.length) return { low: 0, high: 10 };
  sample.sort((a, b) => a - b);
  const at = (q) => sample[Math.min(sample.length - 1, Math.floor(q * sample.length))];
  if (isChange(name)) {
    const most = Math.max(0.05, Math.abs(at(0.01)), Math.abs(at(0.99)));
    return { low: -nice(most), high: nice(most) };
  }
  const low = at(0.002);
  const high = at(0.995);
  const grain = 10 ** Math.floor(Math.log10(Math.max(1e-9, high - low) / 5));
  return { low: Math.floor(low / grain) * grain, high: Math.max(Math.ceil(high / grain) * grain, low + grain) };
}

const nice = (value) => {
  const grain = 10 ** Math.floor(Math.log10(value));
  return Math.ceil(value / grain) * grain;
};
