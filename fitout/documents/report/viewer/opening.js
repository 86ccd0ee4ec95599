// Drawers, slides, lids and doors: what opens first, what shuts first, where everything then is.

const FULL = 1 - 1e-6;
const isOpen = (movement) => movement.open > 0;
const isWide = (movement) => movement.open >= movement.travel * FULL;

// Opens a movement so far (mm or degrees); what it needs opens wide first, what must be shut
// shuts, and what needs it wide shuts as soon as it is no longer so.
function openTo(number, amount, above = []) {
  const movement = movements[number];
  if (above.includes(number)) return;
  const chain = [...above, number];
  if (amount > 0) {
    for (const other of movement.needs)
      if (!isWide(movements[other])) openTo(other, movements[other].travel, chain);
    for (const other of movement.shut) openTo(other, 0, chain);
  }
  movement.open = between(amount, 0, movement.travel);
  if (!isWide(movement))
    movements.forEach((other, i) => {
      if (isOpen(other) && other.needs.includes(number)) openTo(i, 0, chain);
    });
  if (isOpen(movement))
    movements.forEach((other, i) => {
      if (isOpen(other) && other.shut.includes(number)) openTo(i, 0, chain);
    });
}

function wayOf({ turns, direction, point, open }) {
  return turns ? turn(point, direction, open) : shift(times(direction, open));
}

// Where a body is with everything as far open as it is.
function opened(body) {
  const carried = body.follows.reduce((way, i) => after(way, wayOf(movements[i])), UNMOVED);
  return after(carried, body.home);
}

// What is lifted out stands aside, out of the picture, once it is out.
const isAside = (body) => body.follows.some((i) => movements[i].lifted && isWide(movements[i]));

// How far each body goes when all is drawn apart: its module away from the whole, and it from
// its module; nothing goes below the floor's level.
const apart = (() => {
  const whole = extent(parts).middle;
  const middles = new Map();
  for (const body of parts)
    if (!middles.has(body.module))
      middles.set(body.module, extent(parts.filter((b) => b.module === body.module)).middle);
  return new Map(
    parts.map((body) => {
      const own = middles.get(body.module), module = minus(own, whole);
      const part = minus(extent([body]).middle, own);
      const way = add(times(module, 0.9), times(part, 0.7));
      return [body, [way[0], way[1], Math.max(way[2], 0) + 0.25 * Math.max(own[2], 0)]];
    })
  );
})();

// Puts every body where it belongs.
function arrange(exploded) {
  for (const body of bodies) {
    body.place = body.follows.length ? opened(body) : body.home;
    if (exploded && body.kind === SOLID)
      body.place = after(shift(times(apart.get(body), exploded)), body.place);
  }
}
