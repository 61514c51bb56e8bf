// Small things every part uses: elements, numbers as text, text with units.

/** Makes an element: properties, then children (text or elements). */
export function el(name, properties = {}, ...children) {
  const node = document.createElement(name);
  for (const [key, value] of Object.entries(properties)) {
    if (value === undefined || value === null) continue;
    if (key === "class") node.className = value;
    else if (key.startsWith("on")) node.addEventListener(key.slice(2), value);
    else if (key in node && key !== "list") node[key] = value;
    else node.setAttribute(key, value);
  }
  node.append(...children.filter((child) => child !== null && child !== undefined));
  return node;
}

export const byId = (id) => document.getElementById(id);

export const millimetres = (metres, digits = 3) => (Number.isFinite(metres) ? (metres * 1e3).toFixed(digits) + " mm" : "–");
export const micrometres = (metres) => (Number.isFinite(metres) ? (metres * 1e6).toFixed(1) + " µm" : "–");
export const microseconds = (seconds, digits = 3) => (Number.isFinite(seconds) ? (seconds * 1e6).toFixed(digits) + " µs" : "–");
export const percent = (fraction, digits = 1) => (Number.isFinite(fraction) ? (fraction * 100).toFixed(digits) + " %" : "–");
export const count = (number) => number.toLocaleString("en-GB").replaceAll(",", "\u202f");

/** "one two" from "OneTwo". */
export const words = (name) => name.replace(/[A-Z]/g, (c, at) => (at ? " " : "") + c.toLowerCase());

const UNITS = { s: 1, ms: 1e-3, us: 1e-6, "µs": 1e-6, "μs": 1e-6, ns: 1e-9, m: 1, cm: 1e-2, mm: 1e-3, um: 1e-6, "µm": 1e-6, "μm": 1e-6, in: 0.0254 };

/** "0.5 us" to { value, unit, isLength }; null when it is something else. */
export function quantity(text) {
  const match = /^\s*([-+]?[\d.]+(?:[eE][-+]?\d+)?)\s*([a-zA-Zµμ]+)\s*$/.exec(text ?? "");
  if (!match || !(match[2] in UNITS)) return null;
  return { value: Number(match[1]) * UNITS[match[2]], unit: match[2], isLength: /m$|^in$/.test(match[2]) && match[2] !== "ms" };
}

/** An SI value in a unit, to a nanosecond or a hundredth of a millimetre. */
export function withUnit(value, unit) {
  const lengths = /m$|^in$/.test(unit) && unit !== "ms";
  const grain = lengths ? 1e-5 : 1e-9;
  const rounded = Math.round(value / grain) * grain;
  return trimmed(rounded / UNITS[unit], 9) + " " + unit;
}

export const trimmed = (number, digits) => String(Number(number.toFixed(digits)));

/** A level ("5 % of full scale", "-12 dB of strongest", "4 x noise") made so many times higher. */
export function scaledLevel(text, ratio) {
  const match = /^\s*([-+]?[\d.]+(?:[eE][-+]?\d+)?)\s*(%|dB|x)(.*)$/.exec(text ?? "");
  if (!match || !(ratio > 0)) return null;
  const old = Number(match[1]);
  const value = match[2] === "dB" ? old + 20 * Math.log10(ratio) : old * ratio;
  const digits = match[2] === "dB" ? 2 : Math.max(0, 3 - Math.ceil(Math.log10(Math.abs(value) + 1e-9)));
  return `${trimmed(value, Math.min(6, digits))} ${match[2]}${match[3]}`;
}

/** The value of a custom property of the page, for canvases. */
export const ink = (name) => getComputedStyle(document.documentElement).getPropertyValue("--" + name).trim();

export const clamp = (value, low, high) => Math.min(high, Math.max(low, value));

/** Calls at most once a frame. */
export function onceAFrame(work) {
  let waiting = false;
  return () => {
    if (waiting) return;
    waiting = true;
    requestAnimationFrame(() => {
      waiting = false;
      work();
    });
  };
}

export const rem = () => parseFloat(getComputedStyle(document.documentElement).fontSize);
