// The camera goes round a target; z is up. Angles are radians, `turned` from behind the sill.

const FIELD = 0.5;
const STEEPEST = 1.55;
// What fills the picture takes so much of its width or height.
const MARGIN = 0.92;

function newCamera() {
  const self = { target: [0, 0, 0], turned: 0, raised: 0, away: 1000, reach: 1000 };

  self.axes = ({ turned = self.turned, raised = self.raised } = self) => {
    const flat = Math.cos(raised);
    const back = [-flat * Math.cos(turned), flat * Math.sin(turned), Math.sin(raised)];
    const right = unit(cross([0, 0, 1], back));
    return { back, right, up: cross(back, right) };
  };
  self.eye = () => add(self.target, times(self.axes().back, self.away));
  self.orbit = (across, up) => {
    self.turned += across;
    self.raised = between(self.raised + up, -STEEPEST, STEEPEST);
  };
  // Shifts by shares of the picture's height.
  self.pan = (across, up) => {
    const { right, up: upward } = self.axes();
    const high = 2 * self.away * Math.tan(FIELD / 2);
    self.target = add(self.target, add(times(right, -across * high), times(upward, up * high)));
  };
  self.zoom = (by) => {
    self.away = between(self.away * by, self.reach * 0.05, self.reach * 12);
  };
  // From where points fill the picture: each pair of its sides touches the points that reach
  // furthest, seen in perspective, and so sets the middle and the least distance.
  self.seeing = (points, aspect, view) => {
    const { back, right, up } = self.axes(view), t = Math.tan(FIELD / 2) * MARGIN;
    const most = (axis, by) => Math.max(...points.map((p) => dot(p, axis) * by[0] + dot(p, back) * by[1]));
    const filling = (axis, slope) => {
      const high = most(axis, [1, slope]), low = most(axis, [-1, slope]);
      return [times(axis, (high - low) / 2), (high + low) / 2 / slope];
    };
    const [across, wide] = filling(right, t * aspect), [upward, high] = filling(up, t);
    const depth = (most(back, [0, 1]) - most(back, [0, -1])) / 2;
    return { target: add(add(across, upward), times(back, depth)), away: Math.max(wide, high) - depth };
  };
  self.matrix = (aspect) => {
    const { back, right, up } = self.axes(), eye = self.eye();
    const far = self.away + 4 * self.reach;
    const near = Math.max(self.away - 3 * self.reach, self.away * 0.03);
    const f = 1 / Math.tan(FIELD / 2), d = near - far;
    const rows = [right, up, back].map((axis) => [...axis, -dot(axis, eye)]);
    const m = new Float32Array(16);
    for (let c = 0; c < 4; c++) {
      m[4 * c] = (f / aspect) * rows[0][c];
      m[4 * c + 1] = f * rows[1][c];
      m[4 * c + 2] = ((far + near) / d) * rows[2][c] + (c === 3 ? (2 * far * near) / d : 0);
      m[4 * c + 3] = -rows[2][c];
    }
    return m;
  };
  // The ray through a place of the picture, -1 to 1 across and up.
  self.ray = (x, y, aspect) => {
    const { back, right, up } = self.axes(), t = Math.tan(FIELD / 2);
    const along = add(times(back, -1), add(times(right, x * t * aspect), times(up, y * t)));
    return { from: self.eye(), along: unit(along) };
  };
  // Where a point falls in the picture, -1 to 1; null behind the camera.
  self.falls = (point, aspect) => {
    const { back, right, up } = self.axes(), t = Math.tan(FIELD / 2);
    const way = minus(point, self.eye()), depth = -dot(way, back);
    return depth > 0 ? [dot(way, right) / (depth * t * aspect), dot(way, up) / (depth * t)] : null;
  };
  return self;
}

// Drag, pinch, wheel and keys. `changed` is told after each; `tapped` where nothing was dragged.
function steered(canvas, camera, { changed, tapped, key }) {
  const fingers = new Map();
  let travelled = 0, began = 0;
  const middle = () => {
    const all = [...fingers.values()];
    return [0, 1].map((k) => all.reduce((sum, p) => sum + p[k], 0) / all.length);
  };
  const span = () => {
    const [a, b] = [...fingers.values()];
    return b ? Math.hypot(a[0] - b[0], a[1] - b[1]) : 0;
  };
  canvas.addEventListener("pointerdown", (event) => {
    canvas.setPointerCapture(event.pointerId);
    if (!fingers.size) [travelled, began] = [0, event.timeStamp];
    else travelled = Infinity;
    fingers.set(event.pointerId, [event.clientX, event.clientY]);
  });
  canvas.addEventListener("pointermove", (event) => {
    if (!fingers.has(event.pointerId)) return;
    const before = middle(), wide = span();
    fingers.set(event.pointerId, [event.clientX, event.clientY]);
    const now = middle(), dx = now[0] - before[0], dy = now[1] - before[1];
    travelled += Math.abs(dx) + Math.abs(dy);
    const high = canvas.clientHeight;
    if (fingers.size > 1 || event.buttons & 6 || event.shiftKey) camera.pan(dx / high, dy / high);
    else camera.orbit((dx / high) * 3.2, (dy / high) * 3.2);
    if (wide && span()) camera.zoom(wide / span());
    changed();
  });
  const lifted = (event) => {
    if (!fingers.delete(event.pointerId) || event.type !== "pointerup") return;
    if (travelled < 8 && event.timeStamp - began < 700 && event.button === 0)
      tapped(event.offsetX, event.offsetY);
  };
  canvas.addEventListener("pointerup", lifted);
  canvas.addEventListener("pointercancel", lifted);
  canvas.addEventListener("contextmenu", (event) => event.preventDefault());
  canvas.addEventListener("wheel", (event) => {
    event.preventDefault();
    camera.zoom(Math.exp(between(event.deltaY * (event.deltaMode ? 30 : 1), -240, 240) * 0.0016));
    changed();
  }, { passive: false });
  const arrows = { ArrowLeft: [1, 0], ArrowRight: [-1, 0], ArrowUp: [0, 1], ArrowDown: [0, -1] };
  canvas.addEventListener("keydown", (event) => {
    if (event.ctrlKey || event.metaKey || event.altKey) return;
    const way = arrows[event.key];
    if (way && event.shiftKey) camera.pan(way[0] * 0.06, way[1] * 0.06);
    else if (way) camera.orbit(-way[0] * 0.12, way[1] * 0.12);
    else if (event.key === "+" || event.key === "=") camera.zoom(0.88);
    else if (event.key === "-") camera.zoom(1.14);
    else if (!key(event.key)) return;
    event.preventDefault();
    changed();
  });
}
