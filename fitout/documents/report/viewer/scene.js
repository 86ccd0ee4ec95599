// The scene as it was packed: meshes of whole numbers, bodies that are placed meshes.

const SOLID = 0, VEHICLE = 1;
// Edges between faces that turn by more than this are drawn; cosine of 25 degrees.
const SHARP = 0.906;

const data = JSON.parse(document.getElementById("scene").textContent);
const words = data.words;

const meshes = unpacked(data);
const bodies = data.bodies.map(([mesh, place, module, colour, follows, kind, opacity, row]) => ({
  mesh: meshes[mesh],
  home: place,
  place,
  module,
  colour: [1, 3, 5].map((i) => parseInt(colour.slice(i, i + 2), 16) / 255),
  follows,
  kind,
  opacity,
  row,
}));
const parts = bodies.filter((body) => body.kind === SOLID);
const movements = data.movements.map(([turns, lifted, where, travel, needs, shut]) => ({
  turns: turns === 1,
  lifted: lifted === 1,
  direction: where.slice(0, 3),
  point: where.slice(3),
  travel,
  needs,
  shut,
  open: 0,
}));

function unpacked({ data: text, meshes: sizes, step }) {
  const raw = atob(text);
  const bytes = new Uint8Array(raw.length);
  for (let i = 0; i < raw.length; i++) bytes[i] = raw.charCodeAt(i);
  let at = 0;
  return sizes.map(([vertices, triangles, discs]) => {
    const mesh = { points: new Int16Array(bytes.buffer, at, 3 * vertices) };
    mesh.triangles = new Uint16Array(bytes.buffer, (at += 6 * vertices), 3 * triangles);
    mesh.discs = new Int16Array(bytes.buffer, (at += 6 * triangles), 4 * discs);
    at += 8 * discs;
    mesh.edges = sharpEdges(mesh);
    mesh.low = [0, 1, 2].map((k) => step * least(mesh.points, k, Math.min));
    mesh.high = [0, 1, 2].map((k) => step * least(mesh.points, k, Math.max));
    return mesh;
  });
}

function least(points, k, choose) {
  let found = points[k];
  for (let i = k; i < points.length; i += 3) found = choose(found, points[i]);
  return found;
}

// Pairs of vertices where two faces meet at an angle, or where a surface ends.
function sharpEdges({ points, triangles }) {
  const normals = [], seen = new Map(), found = [];
  const vertex = (i) => [points[3 * i], points[3 * i + 1], points[3 * i + 2]];
  for (let t = 0; t < triangles.length; t += 3) {
    const [a, b, c] = [triangles[t], triangles[t + 1], triangles[t + 2]];
    const start = vertex(a);
    const normal = unit(cross(minus(vertex(b), start), minus(vertex(c), start)));
    normals.push(normal);
    for (const [p, q] of [[a, b], [b, c], [c, a]]) {
      const key = p < q ? p * 65536 + q : q * 65536 + p;
      const other = seen.get(key);
      if (other === undefined) seen.set(key, t / 3);
      else {
        seen.delete(key);
        if (dot(normals[other], normal) < SHARP) found.push(p, q);
      }
    }
  }
  for (const key of seen.keys()) found.push(Math.floor(key / 65536), key % 65536);
  return new Uint16Array(found);
}

// The eight corners of a body where it now is.
function corners(body) {
  const { low, high } = body.mesh, found = [];
  for (const x of [low[0], high[0]])
    for (const y of [low[1], high[1]])
      for (const z of [low[2], high[2]]) found.push(placed(body.place, [x, y, z]));
  return found;
}

// The middle and half the diagonal of the block about bodies.
function extent(of) {
  const low = [Infinity, Infinity, Infinity], high = [-Infinity, -Infinity, -Infinity];
  for (const body of of)
    for (const corner of corners(body))
      for (let k = 0; k < 3; k++) {
        low[k] = Math.min(low[k], corner[k]);
        high[k] = Math.max(high[k], corner[k]);
      }
  return { low, high, middle: times(add(low, high), 0.5), radius: size(minus(high, low)) / 2 };
}
