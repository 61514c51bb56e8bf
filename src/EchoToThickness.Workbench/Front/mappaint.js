// Cells to dots. Missing cells stay see-through, so that the hatching under them shows; where a dot holds several cells, the one that
// matters most is shown, never a mean.
import { state } from "./store.js";
import { factorOf, smallMatters, table } from "./colours.js";

const STRIDE = 8;

/** For every line the line it is shown by: while the first lines of a run are in, those between take the nearest measured one before. */
function sources(scans) {
  const source = new Int32Array(scans);
  for (let scan = 0; scan < scans; scan++) {
    source[scan] = scan;
    if (!state.previewing || state.fresh[scan]) continue;
    for (let back = 1; back < STRIDE && scan - back >= 0; back++) {
      if (state.fresh[scan - back]) {
        source[scan] = scan - back;
        break;
      }
    }
  }
  return source;
}

/**
 * Paints part of the map into a buffer of dots.
 * @param view scans and beams at the left and top edge, cells a dot
 */
export function paint(image, name, values, view, previews) {
  const { scans, beams } = state.session.stack;
  const dots = new Uint32Array(image.data.buffer);
  dots.fill(0);
  if (!values) return;
  const colours = table(name);
  const factor = factorOf(name);
  const { low, high } = state.scale;
  const gain = 256 / Math.max(1e-12, high - low);
  const source = previews ? sources(scans) : null;
  const small = smallMatters(name);
  const { width, height } = image;
  const columns = edges(width, view.scan, view.scansPerDot, scans);
  const rows = edges(height, view.beam, view.beamsPerDot, beams);
  const single = view.scansPerDot <= 1 && view.beamsPerDot <= 1;
  for (let x = 0; x < width; x++) {
    const from = columns[2 * x];
    const to = columns[2 * x + 1];
    if (from >= to) continue;
    for (let y = 0; y < height; y++) {
      const top = rows[2 * y];
      const bottom = rows[2 * y + 1];
      if (top >= bottom) continue;
      let value = NaN;
      if (single) {
        value = values[(source ? source[from] : from) * beams + top];
      } else {
        for (let scan = from; scan < to; scan++) {
          const line = (source ? source[scan] : scan) * beams;
          for (let beam = top; beam < bottom; beam++) {
            const one = values[line + beam];
            if (!(small ? one >= value : one <= value) && one === one) value = one;
          }
        }
      }
      if (value === value) dots[y * width + x] = colours[Math.min(255, Math.max(0, ((value * factor - low) * gain) | 0))];
    }
  }
}

/** First cell and the one behind the last of every dot. */
function edges(dots, first, perDot, cells) {
  const edge = new Int32Array(2 * dots);
  for (let i = 0; i < dots; i++) {
    const from = first + i * perDot;
    let low = Math.floor(from + 1e-9);
    let high = Math.max(low + 1, Math.floor(from + perDot - 1e-9) + (perDot > 1 ? 1 : 0));
    if (from < 0 || low >= cells) low = high = 0;
    edge[2 * i] = low;
    edge[2 * i + 1] = Math.min(high, cells);
  }
  return edge;
}
