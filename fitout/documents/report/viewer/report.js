// The page: what is shown, what is asked, and how the picture follows.

const byId = (id) => document.getElementById(id);
const all = (selector, within = document) => [...within.querySelectorAll(selector)];
const canvas = byId("picture"), stage = byId("stage"), card = byId("part"), pin = byId("pin");
const NEITHER = [0, 0, 0, 1e9];
const AXES = { forward: [1, 0, 0], left: [0, 1, 0], up: [0, 0, 1] };
// How opaque are bodies that are not spoken of, those of earlier steps, and a wall that is.
const FAINT = 0.05, EARLIER = 0.35, ASKED = 0.45;

// What the reader has chosen. `about` are the bodies a finding or step speaks of; while there
// are some, all others are faint. `later` are parts that a step does not have yet.
const shown = {
  modules: new Set(data.bodies.map((body) => body[2])),
  hidden: new Set(),
  vehicle: true,
  chosen: null,
  about: new Set(),
  step: false,
  later: new Set(),
  point: null,
  exploded: 0,
  cut: NEITHER,
};

const camera = newCamera();
let picture = null, waiting = false;

const isShown = (body) =>
  body.kind === VEHICLE
    ? shown.vehicle || shown.about.has(body)
    : shown.modules.has(body.module) && !shown.hidden.has(body) && !shown.later.has(body) &&
      !isAside(body);
const isFaint = (body) => shown.about.size > 0 && !shown.about.has(body) && body !== shown.chosen;

function alphaOf(body) {
  if (!isShown(body)) return 0;
  if (body.kind === VEHICLE)
    return shown.about.has(body) ? ASKED : shown.vehicle ? body.opacity * (shown.about.size ? 0.5 : 1) : 0;
  if (body === shown.chosen || shown.about.has(body)) return 2;
  return isFaint(body) ? (shown.step ? EARLIER : FAINT) : 1;
}

const look = { alphaOf, ground: [1, 1, 1], mark: [1, 0.5, 0], cut: NEITHER };

function readColours() {
  const style = getComputedStyle(stage);
  const read = (name) =>
    style.getPropertyValue(name).trim().slice(1).match(/../g).map((part) => parseInt(part, 16) / 255);
  look.ground = read("--ground");
  look.mark = read("--mark");
}

function redraw() {
  if (waiting || !picture) return;
  waiting = true;
  requestAnimationFrame(() => {
    waiting = false;
    look.cut = shown.cut;
    picture.draw(camera, look);
    movePin();
  });
}

const aspect = () => canvas.width / canvas.height;

function fitCanvas() {
  const dense = Math.min(window.devicePixelRatio || 1, 2);
  const wide = Math.round(canvas.clientWidth * dense), high = Math.round(canvas.clientHeight * dense);
  if (!wide || !high || (canvas.width === wide && canvas.height === high)) return;
  [canvas.width, canvas.height] = [wide, high];
  if (framed) Object.assign(camera, allSeen());
  redraw();
}

// ---- the camera goes there

const still = matchMedia("(prefers-reduced-motion: reduce)");
let flight = 0;

function fly(to) {
  const own = ++flight, from = { ...camera }, began = performance.now();
  const apply = (share) => {
    if (to.target) camera.target = add(from.target, times(minus(to.target, from.target), share));
    if (to.away) camera.away = from.away * (to.away / from.away) ** share;
    if (to.turned !== undefined) camera.turned = from.turned + (to.turned - from.turned) * share;
    if (to.raised !== undefined) camera.raised = from.raised + (to.raised - from.raised) * share;
  };
  const onward = () => {
    if (own !== flight) return;
    const share = still.matches ? 1 : Math.min(1, (performance.now() - began) / 350);
    apply(share * share * (3 - 2 * share));
    redraw();
    if (share < 1) requestAnimationFrame(onward);
  };
  onward();
}

const VIEWS = {
  fit: { turned: -0.73, raised: 0.56 },
  rear: { turned: 0, raised: 0.12 },
  side: { turned: -Math.PI / 2, raised: 0.12 },
  above: { turned: 0, raised: STEEPEST },
};

// Until the reader moves the camera, everything that is shown stays in the picture.
let framed = true;

function allSeen(view) {
  const seen = bodies.filter(alphaOf);
  return { ...camera.seeing((seen.length ? seen : parts).flatMap(corners), aspect(), view), ...view };
}

function seeAll(view) {
  framed = true;
  fly(allSeen(view));
}

function seeBodies(some) {
  const seen = some.filter((body) => body.kind === SOLID);
  const { target, away } = camera.seeing((seen.length ? seen : some).flatMap(corners), aspect());
  framed = false;
  fly({ target, away: Math.max(away * 1.3, 500) });
}

// ---- asking what a part is

const rowOf = (body) => byId(`r${body.row}`);

function choose(body) {
  shown.chosen = body;
  for (const row of all("tr.chosen")) row.classList.remove("chosen");
  card.hidden = !body;
  if (body) {
    const row = rowOf(body);
    row.classList.add("chosen");
    const heads = all("thead th", row.closest("table"));
    const list = card.querySelector("dl");
    list.replaceChildren();
    [...row.cells].forEach((cell, i) => {
      const content = cell.querySelector("button") || cell;
      if (cell.tagName === "TH") byId("part-name").replaceChildren(...copies(content));
      else if (cell.textContent) listed(list, heads[i].textContent, copies(content));
    });
    const module = row.parentNode.rows[0].cells[0];
    listed(list, card.dataset.module, copies(module));
    listed(list, words.place, [""]).id = "place";
    tellPlace();
  }
  redraw();
}

const copies = (of) => [...of.childNodes].map((node) => node.cloneNode(true));

function listed(list, word, content) {
  const term = document.createElement("dt"), told = document.createElement("dd");
  term.textContent = word;
  told.append(...content);
  list.append(term, told);
  return told;
}

// Where the middle of the chosen part is just now.
function tellPlace() {
  const told = byId("place");
  if (!shown.chosen || !told) return;
  const { middle } = extent([shown.chosen]);
  told.dataset.at = middle.map((value) => value.toFixed(2)).join(" ");
  told.textContent = `${middle.map(length).join(", ")} ${data.unit} ${words.ways}`;
}

function length(mm) {
  if (data.unit === "mm") return String(Math.round(mm));
  const parts32 = Math.round((Math.abs(mm) / 25.4) * 32), whole = Math.floor(parts32 / 32);
  let above = parts32 % 32, below = 32;
  while (above && above % 2 === 0) [above, below] = [above / 2, below / 2];
  const told = [whole || !above ? whole : "", above ? `${above}/${below}` : ""].filter((t) => t !== "");
  return (mm < 0 && parts32 ? "-" : "") + told.join(" ");
}

// ---- pointing to what a finding or step is about

function pointTo(row) {
  const step = row !== null && row.closest(".steps") !== null;
  for (const other of all("li.chosen")) other.classList.remove("chosen");
  shown.about = new Set();
  shown.step = step;
  shown.later = new Set(step ? laterThan(row) : []);
  shown.point = null;
  pin.hidden = true;
  if (row) {
    choose(null);
    row.classList.add("chosen");
    const some = row.dataset.parts.split(" ").map((number) => bodies[number]);
    shown.about = new Set(some);
    for (const body of some) {
      shown.hidden.delete(body);
      if (body.kind === SOLID) shown.modules.add(body.module);
    }
    tickModules();
    if (row.dataset.point) {
      shown.point = row.dataset.point.split(" ").map(Number);
      pin.textContent = row.dataset.told;
      pin.hidden = false;
      framed = false;
      fly({ target: shown.point, away: 1100 / Math.min(aspect(), 1) });
    } else seeBodies(some);
  }
  canvas.dataset.marked = shown.about.size;
  redraw();
}

function movePin() {
  if (!shown.point) return;
  const where = camera.falls(shown.point, aspect());
  pin.hidden = !where || Math.abs(where[0]) > 1 || Math.abs(where[1]) > 1;
  if (pin.hidden) return;
  pin.style.left = `${(where[0] + 1) * 50}%`;
  pin.style.top = `${canvas.offsetTop + ((1 - where[1]) / 2) * canvas.clientHeight}px`;
}

function letGo() {
  choose(null);
  pointTo(null);
}

// ---- sliders and boxes

const sliders = all("[data-movement]");

function tellOpenings() {
  for (const slider of sliders) {
    const movement = movements[slider.dataset.movement];
    slider.value = movement.open;
    const amount = movement.turns ? `${Math.round(movement.open)}°` : `${length(movement.open)} ${data.unit}`;
    const state = movement.lifted && isWide(movement) ? words.aside
      : isWide(movement) ? words.open : isOpen(movement) ? "" : words.shut;
    const told = state ? `${amount}, ${state}` : amount;
    slider.nextElementSibling.textContent = told;
    slider.setAttribute("aria-valuetext", told);
  }
}

function moved() {
  arrange(shown.exploded);
  tellPlace();
  redraw();
}

function tickModules() {
  for (const box of all("[data-module]", byId("modules"))) box.checked = shown.modules.has(Number(box.dataset.module));
}

function onlyModule(module) {
  shown.modules = new Set([module]);
  shown.hidden.clear();
  tickModules();
  seeAll();
}

function showAll() {
  shown.modules = new Set(data.bodies.map((body) => body[2]));
  shown.hidden.clear();
  shown.vehicle = byId("vehicle").checked = true;
  tickModules();
  letGo();
  seeAll();
}

function setSection() {
  const axis = AXES[byId("axis").value], at = byId("at"), flip = byId("flip");
  at.disabled = flip.disabled = !axis;
  shown.cut = NEITHER;
  at.nextElementSibling.textContent = "";
  if (axis) {
    const { low, high } = extent(parts.filter(isShown)), k = axis.indexOf(1);
    // Hardly ever just along a face, which would be neither cut nor whole.
    const level = low[k] - 1.37 + (high[k] - low[k] + 2) * Number(at.value);
    // Kept is what lies beyond the cut as one looks in from the rear right, above.
    const sign = (k === 2) === flip.checked ? -1 : 1;
    shown.cut = [...times(axis, sign), sign * level];
    at.nextElementSibling.textContent = `${length(level)} ${data.unit}`;
  }
  redraw();
}

function stepPart(by) {
  const seen = parts.filter((body) => isShown(body));
  if (!seen.length) return;
  const at = seen.indexOf(shown.chosen);
  const next = seen[at < 0 ? (by > 0 ? 0 : seen.length - 1) : (at + by + seen.length) % seen.length];
  choose(next);
}

function hideChosen() {
  if (!shown.chosen) return;
  shown.hidden.add(shown.chosen);
  choose(null);
}

const KEYS = {
  0: () => seeAll(VIEWS.fit),
  n: () => stepPart(1),
  p: () => stepPart(-1),
  h: hideChosen,
  escape: letGo,
};

function key(name) {
  const act = KEYS[name.toLowerCase()];
  if (act) act();
  return Boolean(act);
}

function tapped(x, y) {
  const high = canvas.clientHeight, wide = canvas.clientWidth;
  const ray = camera.ray((2 * x) / wide - 1, 1 - (2 * y) / high, aspect());
  const met = picked(ray, (body) => isShown(body) && !(isFaint(body) && !shown.step), shown.cut);
  if (met) choose(met);
  else letGo();
}

function act(event) {
  const button = event.target.closest("button");
  if (!button) return;
  const { do: what, view, only } = button.dataset;
  const row = button.closest("li"), line = button.closest("tr");
  if (view === "larger") {
    button.setAttribute("aria-pressed", stage.classList.toggle("large"));
    fitCanvas();
  } else if (view) seeAll(VIEWS[view]);
  else if (only) onlyModule(Number(only));
  else if (what === "only") onlyModule(shown.chosen.module);
  else if (what === "hide") hideChosen();
  else if (what === "close") letGo();
  else if (what === "all") showAll();
  else if (what === "shut") {
    movements.forEach((movement) => (movement.open = 0));
    tellOpenings();
    moved();
  } else if (row && row.dataset.parts) {
    pointTo(row.classList.contains("chosen") ? null : row);
    stage.scrollIntoView({ block: "nearest" });
  } else if (line && line.id) {
    const body = parts.find((one) => one.row === Number(line.id.slice(1)));
    shown.hidden.delete(body);
    shown.modules.add(body.module);
    tickModules();
    pointTo(null);
    // It may lie deep inside: the others turn faint.
    shown.about = new Set([body]);
    choose(body);
    seeBodies([body]);
  }
}

// The parts that only steps after this one add.
function laterThan(row) {
  const steps = all(".steps li").filter((one) => one.dataset.parts);
  const rowsOf = (some) =>
    new Set(some.flatMap((one) => one.dataset.parts.split(" ").map((number) => bodies[number].row)));
  const at = steps.indexOf(row) + 1;
  const there = rowsOf(steps.slice(0, at)), later = rowsOf(steps.slice(at));
  return parts.filter((body) => later.has(body.row) && !there.has(body.row));
}

function search() {
  const asked = byId("search").value.trim().toLowerCase();
  let count = 0;
  for (const row of all(".findings > li")) {
    row.hidden = asked !== "" && !row.textContent.toLowerCase().includes(asked);
    count += row.hidden ? 0 : 1;
  }
  if (asked) for (const group of all("#findings details")) group.open = true;
  byId("matches").textContent = asked ? String(count) : "";
}

function listen() {
  document.addEventListener("click", act);
  for (const slider of sliders)
    slider.addEventListener("input", () => {
      // What opens is to be seen, so a finding that was pointed to is let go.
      if (shown.about.size) pointTo(null);
      openTo(Number(slider.dataset.movement), Number(slider.value));
      tellOpenings();
      moved();
    });
  byId("explode").addEventListener("input", (event) => {
    shown.exploded = Number(event.target.value);
    event.target.nextElementSibling.textContent = `${Math.round(100 * shown.exploded)} %`;
    moved();
  });
  for (const id of ["axis", "at", "flip"]) byId(id).addEventListener("input", setSection);
  for (const box of all("[data-module]", byId("modules")))
    box.addEventListener("change", () => {
      const module = Number(box.dataset.module);
      if (box.checked) shown.modules.add(module);
      else shown.modules.delete(module);
      redraw();
    });
  byId("vehicle").addEventListener("change", (event) => {
    shown.vehicle = event.target.checked;
    redraw();
  });
  byId("search").addEventListener("input", search);
  document.addEventListener("change", () => framed && seeAll());
  new ResizeObserver(fitCanvas).observe(canvas);
  matchMedia("(prefers-color-scheme: dark)").addEventListener("change", () => {
    readColours();
    redraw();
  });
  steered(canvas, camera, { changed: () => { flight++; framed = false; redraw(); }, tapped, key });
}

// Long lists are folded on the screen and unfolded on paper.
function fold() {
  const long = all("details[data-long]");
  for (const one of long) one.open = false;
  let folded = [];
  addEventListener("beforeprint", () => {
    folded = all("details:not([open])");
    for (const one of folded) one.open = true;
  });
  addEventListener("afterprint", () => {
    for (const one of folded) one.open = false;
  });
}

function begin() {
  const page = document.documentElement.classList;
  page.add("live");
  setTimeout(() => page.add("whole"), 300);
  fold();
  canvas.hidden = false;
  picture = parts.length ? newPicture(canvas) : null;
  if (!picture) {
    canvas.hidden = true;
    if (parts.length) byId("drawn").append(words.no_picture);
    page.remove("live");
    return;
  }
  stage.classList.add("moving");
  readColours();
  camera.reach = extent(parts).radius;
  fitCanvas();
  Object.assign(camera, allSeen(VIEWS.fit));
  arrange(0);
  tellOpenings();
  listen();
  picture.draw(camera, look);
  canvas.dataset.ready = Math.round(performance.now());
}

begin();
