// What a ray meets first, by boxes and then triangles, in each body's own axes.

function picked(ray, isSeen, cut) {
  const near = [];
  for (const body of parts) {
    if (!isSeen(body)) continue;
    const m = body.place;
    const from = turnedBack(m, minus(ray.from, [m[3], m[7], m[11]]));
    const along = turnedBack(m, ray.along);
    const enters = boxEntered(body.mesh, from, along);
    if (enters < Infinity) near.push({ body, from, along, enters });
  }
  near.sort((a, b) => a.enters - b.enters);
  let best = { at: Infinity, body: null };
  for (const one of near) {
    if (one.enters > best.at) break;
    // What is cut away is not met.
    const kept = (t) => dot(add(ray.from, times(ray.along, t)), cut) <= cut[3];
    const at = meshMet(one.body.mesh, one.from, one.along, kept);
    if (at < best.at) best = { at, body: one.body };
  }
  return best.body;
}

function boxEntered({ low, high }, from, along) {
  let first = 0, last = Infinity;
  for (let k = 0; k < 3; k++) {
    const a = (low[k] - from[k]) / along[k], b = (high[k] - from[k]) / along[k];
    if (Number.isNaN(a) || Number.isNaN(b)) continue;
    first = Math.max(first, Math.min(a, b));
    last = Math.min(last, Math.max(a, b));
  }
  return first <= last ? first : Infinity;
}

// Möller and Trumbore's test of a ray against each triangle.
function meshMet({ points, triangles }, from, along, kept) {
  const step = data.step;
  let best = Infinity;
  const vertex = (i) => [points[3 * i] * step, points[3 * i + 1] * step, points[3 * i + 2] * step];
  for (let t = 0; t < triangles.length; t += 3) {
    const a = vertex(triangles[t]);
    const ab = minus(vertex(triangles[t + 1]), a), ac = minus(vertex(triangles[t + 2]), a);
    const p = cross(along, ac), det = dot(ab, p);
    if (Math.abs(det) < 1e-9) continue;
    const s = minus(from, a), u = dot(s, p) / det;
    if (u < 0 || u > 1) continue;
    const q = cross(s, ab), v = dot(along, q) / det;
    if (v < 0 || u + v > 1) continue;
    const at = dot(ac, q) / det;
    if (at > 0 && at < best && kept(at)) best = at;
  }
  return best;
}
