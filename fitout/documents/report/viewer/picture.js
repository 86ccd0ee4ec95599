// Drawing: all meshes lie in one buffer, each vertex with the number of its body. Placement and
// colour of the bodies stand in a small texture, so that opening a drawer changes only that.

const SHAPES = `#version 300 es
precision highp float;
precision highp sampler2D;
uniform sampler2D table;
uniform mat4 view;
uniform float step, clear, nearer;
layout(location=0) in vec3 point;
layout(location=1) in float number;
layout(location=2) in vec4 disc;
out vec3 place;
out vec2 within;
flat out vec4 tint;
void main() {
  int row = int(number);
  vec3 p = point;
  within = vec2(0.0);
  if (disc.w != 0.0) {
    within = vec2(gl_VertexID & 1, gl_VertexID >> 1) * 2.0 - 1.0;
    p = disc.xyz + vec3(within * vec2(1.0, sign(disc.w)) * abs(disc.w) * 0.5, 0.0);
  }
  vec4 at = vec4(p * step + vec3(0.0, 0.0, disc.w == 0.0 ? 0.0 : sign(disc.w) * 0.15), 1.0);
  place = vec3(
    dot(texelFetch(table, ivec2(0, row), 0), at),
    dot(texelFetch(table, ivec2(1, row), 0), at),
    dot(texelFetch(table, ivec2(2, row), 0), at));
  tint = texelFetch(table, ivec2(3, row), 0);
  gl_Position = view * vec4(place, 1.0);
  gl_Position.z -= nearer * gl_Position.w;
  bool seeThrough = tint.a < 0.999;
  if (tint.a <= 0.0 || seeThrough != (clear > 0.5)) gl_Position = vec4(0.0, 0.0, 2.0, 1.0);
}`;

const COLOURS = `#version 300 es
precision highp float;
uniform vec4 cut;
uniform vec3 eye, mark;
uniform float kind, edge;
in vec3 place;
in vec2 within;
flat in vec4 tint;
out vec4 colour;
void main() {
  if (dot(place, cut.xyz) > cut.w) discard;
  bool marked = tint.a > 1.5;
  vec3 own = marked ? mix(tint.rgb, mark, 0.6) : tint.rgb;
  float alpha = min(tint.a, 1.0);
  if (kind > 1.5) {
    if (dot(within, within) > 1.0) discard;
    colour = vec4(own * 0.28, alpha);
    return;
  }
  if (kind > 0.5) {
    colour = vec4(marked ? mark * 0.45 : own * (alpha < 0.999 ? edge : 0.42), min(alpha * 2.0, 1.0));
    return;
  }
  float stripe = mod(gl_FragCoord.x + gl_FragCoord.y, 9.0);
  // Looking into a part means that it is cut open there: its cut face, hatched.
  if (!gl_FrontFacing && alpha > 0.999) {
    colour = vec4(stripe < 1.6 ? own * 0.5 : mix(own, vec3(1.0), 0.25), alpha);
    return;
  }
  vec3 normal = normalize(cross(dFdx(place), dFdy(place)));
  vec3 toEye = normalize(eye - place);
  if (dot(normal, toEye) < 0.0) normal = -normal;
  float light = 0.60 + 0.24 * max(dot(normal, normalize(vec3(-0.45, -0.25, 0.85))), 0.0)
    + 0.18 * dot(normal, toEye);
  if (marked && stripe < 2.0) light *= 0.82;
  colour = vec4(own * light, alpha);
}`;

const SURFACE = 0, EDGE = 1, DISC = 2;

function newPicture(canvas) {
  const gl = canvas.getContext("webgl2", { antialias: true, alpha: false });
  if (!gl) return null;
  const program = linked(gl);
  const uniform = Object.fromEntries(
    ["table", "view", "step", "clear", "nearer", "cut", "eye", "mark", "kind", "edge"].map((name) => [
      name, gl.getUniformLocation(program, name),
    ])
  );
  const surfaces = filledBuffers(gl);
  const discs = discBuffers(gl);
  const rows = new Float32Array(16 * bodies.length);
  gl.bindTexture(gl.TEXTURE_2D, gl.createTexture());
  for (const filter of [gl.TEXTURE_MIN_FILTER, gl.TEXTURE_MAG_FILTER])
    gl.texParameteri(gl.TEXTURE_2D, filter, gl.NEAREST);
  gl.texStorage2D(gl.TEXTURE_2D, 1, gl.RGBA32F, 4, bodies.length);
  gl.enable(gl.DEPTH_TEST);
  gl.depthFunc(gl.LEQUAL);
  gl.blendFunc(gl.SRC_ALPHA, gl.ONE_MINUS_SRC_ALPHA);
  gl.useProgram(program);
  gl.uniform1i(uniform.table, 0);
  gl.uniform1f(uniform.step, data.step);

  // Alpha 0 hides a body, below 1 shows it see-through, 2 marks it.
  function fill(alphaOf) {
    bodies.forEach((body, i) => {
      rows.set(body.place, 16 * i);
      rows.set(body.colour, 16 * i + 12);
      rows[16 * i + 15] = alphaOf(body);
    });
    gl.texSubImage2D(gl.TEXTURE_2D, 0, 0, 0, 4, bodies.length, gl.RGBA, gl.FLOAT, rows);
  }

  function pass(clear) {
    gl.uniform1f(uniform.clear, clear);
    gl.bindVertexArray(surfaces.array);
    gl.uniform1f(uniform.kind, SURFACE);
    gl.uniform1f(uniform.nearer, 0);
    gl.drawElements(gl.TRIANGLES, surfaces.faces, gl.UNSIGNED_INT, 0);
    gl.uniform1f(uniform.kind, EDGE);
    // Edges lie a little before where they are, so that they show whole.
    gl.uniform1f(uniform.nearer, 2.5e-4);
    gl.drawElements(gl.LINES, surfaces.lines, gl.UNSIGNED_INT, 4 * surfaces.faces);
    if (clear || !discs.count) return;
    gl.bindVertexArray(discs.array);
    gl.uniform1f(uniform.kind, DISC);
    gl.uniform1f(uniform.nearer, 2e-4);
    gl.drawArraysInstanced(gl.TRIANGLE_STRIP, 0, 4, discs.count);
  }

  function draw(camera, look) {
    gl.viewport(0, 0, canvas.width, canvas.height);
    gl.clearColor(...look.ground, 1);
    gl.clear(gl.COLOR_BUFFER_BIT | gl.DEPTH_BUFFER_BIT);
    fill(look.alphaOf);
    gl.uniformMatrix4fv(uniform.view, false, camera.matrix(canvas.width / canvas.height));
    gl.uniform3fv(uniform.eye, camera.eye());
    gl.uniform3fv(uniform.mark, look.mark);
    // Edges of what is see-through stand out from a light ground and from a dark one.
    gl.uniform1f(uniform.edge, look.ground[0] > 0.5 ? 0.42 : 1.1);
    gl.uniform4fv(uniform.cut, look.cut);
    gl.disable(gl.BLEND);
    gl.disable(gl.CULL_FACE);
    gl.depthMask(true);
    pass(0);
    // See-through: only what faces the viewer, so that walls are seen from inside alone.
    gl.enable(gl.BLEND);
    gl.enable(gl.CULL_FACE);
    gl.depthMask(false);
    pass(1);
    gl.depthMask(true);
  }
  return { draw };
}

function linked(gl) {
  const program = gl.createProgram();
  for (const [type, source] of [[gl.VERTEX_SHADER, SHAPES], [gl.FRAGMENT_SHADER, COLOURS]]) {
    const shader = gl.createShader(type);
    gl.shaderSource(shader, source);
    gl.compileShader(shader);
    gl.attachShader(program, shader);
  }
  gl.linkProgram(program);
  if (!gl.getProgramParameter(program, gl.LINK_STATUS))
    throw new Error(gl.getProgramInfoLog(program) || "no picture");
  return program;
}

// One buffer of vertices, one of triangles followed by edges, for all bodies.
function filledBuffers(gl) {
  const total = (of) => bodies.reduce((sum, { mesh }) => sum + of(mesh), 0);
  const vertices = total((mesh) => mesh.points.length / 3);
  const faces = total((mesh) => mesh.triangles.length), lines = total((mesh) => mesh.edges.length);
  const points = new Int16Array(4 * vertices), order = new Uint32Array(faces + lines);
  let vertex = 0, face = 0, line = faces;
  bodies.forEach(({ mesh }, number) => {
    for (const i of mesh.triangles) order[face++] = vertex + i;
    for (const i of mesh.edges) order[line++] = vertex + i;
    for (let i = 0; i < mesh.points.length; i += 3, vertex++) {
      points.set(mesh.points.subarray(i, i + 3), 4 * vertex);
      points[4 * vertex + 3] = number;
    }
  });
  const array = gl.createVertexArray();
  gl.bindVertexArray(array);
  held(gl, gl.ARRAY_BUFFER, points);
  held(gl, gl.ELEMENT_ARRAY_BUFFER, order);
  gl.enableVertexAttribArray(0);
  gl.vertexAttribPointer(0, 3, gl.SHORT, false, 8, 0);
  gl.enableVertexAttribArray(1);
  gl.vertexAttribPointer(1, 1, gl.SHORT, false, 8, 6);
  gl.vertexAttrib4f(2, 0, 0, 0, 0);
  return { array, faces, lines };
}

// Drill holes: a disc each, four numbers and the body's.
function discBuffers(gl) {
  const found = [];
  bodies.forEach(({ mesh }, number) => {
    for (let i = 0; i < mesh.discs.length; i += 4) found.push(...mesh.discs.subarray(i, i + 4), number);
  });
  const array = gl.createVertexArray();
  gl.bindVertexArray(array);
  held(gl, gl.ARRAY_BUFFER, new Int16Array(found));
  gl.enableVertexAttribArray(2);
  gl.vertexAttribPointer(2, 4, gl.SHORT, false, 10, 0);
  gl.vertexAttribDivisor(2, 1);
  gl.enableVertexAttribArray(1);
  gl.vertexAttribPointer(1, 1, gl.SHORT, false, 10, 8);
  gl.vertexAttribDivisor(1, 1);
  return { array, count: found.length / 5 };
}

function held(gl, target, content) {
  gl.bindBuffer(target, gl.createBuffer());
  gl.bufferData(target, content, gl.STATIC_DRAW);
}
