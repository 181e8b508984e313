// Requests to the desk, one way each.

/** A line that says why something was not done. */
export class Refused extends Error {}

async function answer(response) {
  if (response.ok) return response;
  let words = `the desk answered ${response.status}`;
  try {
    words = (await response.json()).fault ?? words;
  } catch {
    // no words of its own
  }
  throw new Refused(words);
}

async function reached(request) {
  try {
    return await request;
  } catch {
    throw new Refused("the desk is not running any more; start it again, nothing is lost");
  }
}

export async function get(path, asked = {}) {
  const query = new URLSearchParams(asked).toString();
  return (await answer(await reached(fetch(query ? `${path}?${query}` : path)))).json();
}

async function post(path, given) {
  return answer(await reached(fetch(path, { method: "POST", body: JSON.stringify(given) })));
}

export const doing = async (what, given = {}) => (await post("do", { ...given, what })).json();
/** A file's bytes, to an address. */
export async function sent(path, file) {
  return (await answer(await reached(fetch(path, { method: "POST", body: file })))).json();
}
export const posted = async (path, given = {}) => (await post(path, given)).json();

// --- models ------------------------------------------------------------------------------

const meshes = new Map(); // by hash
const places = new Map();

/** A design's parts by key, each with its mesh and places; only what is new travels. */
export async function house(name) {
  const have = [...meshes.keys(), ...places.keys()];
  const bytes = await (await post("house", { name, have })).arrayBuffer();
  const all = new Uint8Array(bytes);
  let at = all.indexOf(10) + 1;
  const said = JSON.parse(new TextDecoder().decode(all.subarray(0, at)));
  const take = (Kind, count) => {
    const taken = new Kind(bytes, at, count).slice(); // one mesh kept keeps no whole parcel
    at += 4 * count;
    return taken;
  };
  for (const { hash, points, faces } of said.meshes) {
    const positions = take(Float32Array, 3 * points);
    const normals = take(Float32Array, 3 * points);
    meshes.set(hash, { positions, normals, indices: take(Uint32Array, 3 * faces) });
  }
  for (const { hash, count } of said.places) places.set(hash, take(Float32Array, 16 * count));
  return new Map(said.parts.map((part) => [part.key, part]));
}

/** A part as the viewer takes it. */
export function drawable({ key, mesh, places: stands, role }) {
  const part = { key, role, ...meshes.get(mesh) };
  return stands ? { ...part, matrices: places.get(stands) } : part;
}

/** Forget shapes that no house on the screen has any more. */
export function forget(houses) {
  const kept = new Set();
  for (const parts of houses) for (const { mesh, places: p } of parts.values()) kept.add(mesh).add(p);
  for (const table of [meshes, places]) {
    if (table.size < 2 * kept.size) continue;
    for (const hash of table.keys()) if (!kept.has(hash)) table.delete(hash);
  }
}
