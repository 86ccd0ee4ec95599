// Vectors are arrays of three; a placement is the twelve numbers of a 3 x 4 matrix, row by row.

const add = (a, b) => [a[0] + b[0], a[1] + b[1], a[2] + b[2]];
const minus = (a, b) => [a[0] - b[0], a[1] - b[1], a[2] - b[2]];
const times = (a, k) => [a[0] * k, a[1] * k, a[2] * k];
const dot = (a, b) => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
const cross = (a, b) => [
  a[1] * b[2] - a[2] * b[1],
  a[2] * b[0] - a[0] * b[2],
  a[0] * b[1] - a[1] * b[0],
];
const size = (a) => Math.hypot(a[0], a[1], a[2]);
const unit = (a) => times(a, 1 / (size(a) || 1));
const between = (value, least, most) => Math.min(Math.max(value, least), most);

const UNMOVED = [1, 0, 0, 0, 0, 1, 0, 0, 0, 0, 1, 0];

// The placement that first does `b`, then `a`.
function after(a, b) {
  const result = new Array(12);
  for (let row = 0; row < 12; row += 4) {
    for (let column = 0; column < 4; column++) {
      result[row + column] =
        a[row] * b[column] + a[row + 1] * b[4 + column] + a[row + 2] * b[8 + column] +
        (column === 3 ? a[row + 3] : 0);
    }
  }
  return result;
}

// Where a placement puts a point.
const placed = (m, p) => [
  m[0] * p[0] + m[1] * p[1] + m[2] * p[2] + m[3],
  m[4] * p[0] + m[5] * p[1] + m[6] * p[2] + m[7],
  m[8] * p[0] + m[9] * p[1] + m[10] * p[2] + m[11],
];

// A direction of the bay in the axes of a placed body, which is rigid.
const turnedBack = (m, d) => [
  m[0] * d[0] + m[4] * d[1] + m[8] * d[2],
  m[1] * d[0] + m[5] * d[1] + m[9] * d[2],
  m[2] * d[0] + m[6] * d[1] + m[10] * d[2],
];

const shift = (d) => [1, 0, 0, d[0], 0, 1, 0, d[1], 0, 0, 1, d[2]];

// A turn by so many degrees about the axis through `point` along `axis`, right-handed.
function turn(point, axis, degrees) {
  const [x, y, z] = unit(axis);
  const c = Math.cos((degrees * Math.PI) / 180), s = Math.sin((degrees * Math.PI) / 180), k = 1 - c;
  const about = [
    c + x * x * k, x * y * k - z * s, x * z * k + y * s, 0,
    y * x * k + z * s, c + y * y * k, y * z * k - x * s, 0,
    z * x * k - y * s, z * y * k + x * s, c + z * z * k, 0,
  ];
  return after(shift(point), after(about, shift(times(point, -1))));
}
