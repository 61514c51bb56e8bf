// Talks to the server. Every address is relative to the page, whose address holds the secret.

export class Fault extends Error {
  constructor(faults) {
    super(faults.map((f) => f.what).join(" "));
    this.faults = faults;
  }
}

async function checked(response) {
  if (response.ok) return response;
  let faults = [{ key: "", what: `The server answered ${response.status}.`, remedy: "is the workbench still running?", place: "" }];
  try {
    faults = (await response.json()).faults ?? faults;
  } catch {
    // No words came with it: the sentence above stands.
  }
  throw new Fault(faults);
}

export const get = async (route) => (await checked(await fetch(route))).json();

export const post = async (route, body, signal) =>
  checked(await fetch(route, { method: "POST", headers: { "Content-Type": "application/json" }, body: JSON.stringify(body), signal }));

/** Reads an answer that comes in pieces: kind, length, payload. Calls with kind and a view over the payload. */
export async function pieces(response, take) {
  const reader = response.body.getReader();
  let held = new Uint8Array(1 << 16);
  let have = 0;
  let at = 0;
  for (;;) {
    const { value, done } = await reader.read();
    if (value) {
      if (have + value.length > held.length) {
        const rest = have - at;
        const larger = rest + value.length > held.length ? new Uint8Array(2 * (rest + value.length)) : held;
        larger.set(held.subarray(at, have));
        held = larger;
        have = rest;
        at = 0;
      }
      held.set(value, have);
      have += value.length;
    }
    while (have - at >= 5) {
      const length = new DataView(held.buffer, at + 1, 4).getUint32(0, true);
      if (have - at < 5 + length) break;
      take(held[at], held.slice(at + 5, at + 5 + length));
      at += 5 + length;
    }
    if (done) return;
  }
}

export const json = (bytes) => JSON.parse(new TextDecoder().decode(bytes));

/** A tile: first line, lines, then every layer and the statuses. */
export function tile(bytes, beams, layers) {
  const view = new DataView(bytes.buffer, bytes.byteOffset);
  const first = view.getInt32(0, true);
  const lines = view.getInt32(4, true);
  const cells = lines * beams;
  const values = {};
  layers.forEach((name, i) => {
    values[name] = new Float32Array(bytes.buffer, bytes.byteOffset + 8 + 4 * cells * i, cells);
  });
  return { first, lines, values, status: bytes.subarray(8 + 4 * cells * layers.length) };
}

/** A whole map that is not measured here: truth, grid, reference. */
export async function wholeMap(response, scans, beams) {
  const map = { thickness: new Float32Array(scans * beams), status: new Uint8Array(scans * beams) };
  let layers = [];
  await pieces(response, (kind, bytes) => {
    if (kind === 1) layers = json(bytes).layers;
    if (kind !== 2) return;
    const part = tile(bytes, beams, layers);
    map.thickness.set(part.values.thickness, part.first * beams);
    map.status.set(part.status, part.first * beams);
  });
  return map;
}

export function singles(base64) {
  const text = atob(base64);
  const bytes = new Uint8Array(text.length);
  for (let i = 0; i < bytes.length; i++) bytes[i] = text.charCodeAt(i);
  return new Float32Array(bytes.buffer);
}
