// Drawing with WebGL 2: faces with their crease lines, and the solid faces of a cut. It knows parts and a lens, no controls.

const VERTEX = `#version 300 es
layout(location = 0) in vec3 place;
layout(location = 1) in vec3 growth;
layout(location = 2) in uint marks;
uniform mat4 lens;
uniform vec3 shift;
uniform float extra;
out vec3 spot;
out vec3 share;
flat out uint creased;
void main() {
  spot = place + extra * growth + shift;
  int corner = gl_VertexID % 3;
  share = vec3(corner == 0, corner == 1, corner == 2);
  creased = marks;
  gl_Position = lens * vec4(spot, 1.0);
}`;

// Crease lines are part of the faces: dark within a pen's width of a creased edge, so that no line can shine through
// the next sheet, however thin. They fade on faces so narrow that they would be nothing but line.
const FRAGMENT = `#version 300 es
precision highp float;
in vec3 spot;
in vec3 share;
flat in uint creased;
uniform vec4 knife;
uniform vec4 tone;
uniform vec4 ink;
uniform vec3 lamp;
uniform float pen;
out vec4 shown;
void main() {
  vec3 outward = normalize(cross(dFdx(spot), dFdy(spot)));
  vec3 right = dFdx(share);
  vec3 up = dFdy(share);
#ifdef CUT
  if (dot(knife.xyz, spot) > knife.w) discard;
#endif
  float light = lamp == vec3(0.0) ? 1.0 : 0.64 + 0.36 * (0.5 + 0.5 * dot(outward, lamp));
  vec4 drawn = vec4(tone.rgb * light, tone.a);
  if (pen > 0.0 && creased != 0u) {
    vec3 tall = inversesqrt(max(right * right + up * up, vec3(1e-18)));
    vec3 edge = vec3(creased & 1u, (creased >> 1) & 1u, (creased >> 2) & 1u);
    vec3 tip = vec3((creased >> 3) & 1u, (creased >> 4) & 1u, (creased >> 5) & 1u);
    vec3 near = max(edge * clamp(pen + 0.5 - share * tall, 0.0, 1.0), tip * clamp(pen + 0.5 - (1.0 - share) * tall, 0.0, 1.0));
    near *= smoothstep(1.5 * pen, 5.0 * pen, tall);
    drawn = mix(drawn, ink, max(near.x, max(near.y, near.z)));
  }
  shown = vec4(drawn.rgb * drawn.a, drawn.a);
}`;

const LAMP = [0.303, -0.404, 0.863];
const DARK = [0, 0, 0];
const OPEN = [0, 0, 0, 1];
const PEN = 0.8;

// Bits of each triangle: 1, 2, 4 where the edge facing corner 0, 1, 2 is a crease; 8, 16, 32 where only
// the corner touches one: without its tip the line would have a gap there.
function marksOf({ triangles, creases }) {
  const most = 2 ** 26;
  const lines = new Set();
  const ends = new Set(creases);
  for (let i = 0; i < creases.length; i += 2) {
    lines.add(Math.min(creases[i], creases[i + 1]) * most + Math.max(creases[i], creases[i + 1]));
  }
  const marks = new Uint8Array(triangles.length);
  for (let i = 0; i < triangles.length; i += 3) {
    let bits = 0;
    for (let k = 0; k < 3; k += 1) {
      const [one, other] = [triangles[i + ((k + 1) % 3)], triangles[i + ((k + 2) % 3)]];
      if (lines.has(Math.min(one, other) * most + Math.max(one, other))) bits |= 1 << k;
    }
    for (let k = 0; k < 3; k += 1) {
      const beside = (1 << ((k + 1) % 3)) | (1 << ((k + 2) % 3)); // bits of the two edges that meet in the corner
      if (!(bits & beside) && ends.has(triangles[i + k])) bits |= 8 << k;
    }
    marks.fill(bits, i, i + 3);
  }
  return marks;
}

// Corners in the order of the drawing, triangles first, then the lines that mark a part, and the marks of each. Parts
// that are cut alike share their faces, and so their pattern.
function patternOf(part, known) {
  const found = known.get(part.triangles);
  if (found?.creases === part.creases) return found;
  const order = new Uint32Array(part.triangles.length + part.creases.length);
  order.set(part.triangles);
  order.set(part.creases, part.triangles.length);
  const marks = new Uint8Array(order.length);
  marks.set(marksOf(part));
  const pattern = { order, marks, creases: part.creases };
  known.set(part.triangles, pattern);
  return pattern;
}

// Three numbers of each corner, triangle by triangle or line by line.
function spread(numbers, order) {
  const out = new Float32Array(3 * order.length);
  for (let i = 0; i < order.length; i += 1) {
    const [to, from] = [3 * i, 3 * order[i]];
    out[to] = numbers[from];
    out[to + 1] = numbers[from + 1];
    out[to + 2] = numbers[from + 2];
  }
  return out;
}

// Only a cut picture pays for the knife: a shader that may throw pixels away keeps a card from skipping hidden ones.
const CUT = FRAGMENT.replace("precision", "#define CUT\nprecision");
// Counting what a line of sight goes through needs no colour.
const COUNT = `#version 300 es
precision highp float;
in vec3 spot;
uniform vec4 knife;
out vec4 shown;
void main() {
  if (dot(knife.xyz, spot) > knife.w) discard;
  shown = vec4(1.0);
}`;

function programOf(gl, fragment) {
  const program = gl.createProgram();
  for (const [kind, text] of [[gl.VERTEX_SHADER, VERTEX], [gl.FRAGMENT_SHADER, fragment]]) {
    const shader = gl.createShader(kind);
    gl.shaderSource(shader, text);
    gl.compileShader(shader);
    gl.attachShader(program, shader);
  }
  gl.linkProgram(program);
  if (!gl.getProgramParameter(program, gl.LINK_STATUS) && !gl.isContextLost()) {
    throw new Error(`The picture's program does not link: ${gl.getProgramInfoLog(program)}`);
  }
  const names = ["lens", "shift", "extra", "knife", "tone", "ink", "pen", "lamp"];
  return { program, spots: Object.fromEntries(names.map((name) => [name, gl.getUniformLocation(program, name)])) };
}

// A vertex array of one buffer of corners, for cut faces and cut lines that change with the cut.
function looseOf(gl) {
  const array = gl.createVertexArray();
  const buffer = gl.createBuffer();
  gl.bindVertexArray(array);
  gl.bindBuffer(gl.ARRAY_BUFFER, buffer);
  gl.enableVertexAttribArray(0);
  gl.vertexAttribPointer(0, 3, gl.FLOAT, false, 0, 0);
  return { array, buffer };
}

function fill(gl, loose, numbers) {
  gl.bindVertexArray(loose.array);
  gl.bindBuffer(gl.ARRAY_BUFFER, loose.buffer);
  gl.bufferData(gl.ARRAY_BUFFER, new Float32Array(numbers), gl.DYNAMIC_DRAW);
}

export function createPainter(gl) {
  const whole = programOf(gl, FRAGMENT);
  let cut = null; // these two are made when something is cut for the first time
  let count = null;
  let spots = whole.spots;
  const quads = looseOf(gl);
  const edges = looseOf(gl);
  let target = null; // where ids are drawn for picking, as large as the picture

  const patterns = new WeakMap();
  function load(part) {
    const array = gl.createVertexArray();
    gl.bindVertexArray(array);
    const { order, marks } = patternOf(part, patterns);
    const buffers = [spread(part.points, order), spread(part.growth, order), marks].map((numbers, slot) => {
      const buffer = gl.createBuffer();
      gl.bindBuffer(gl.ARRAY_BUFFER, buffer);
      gl.bufferData(gl.ARRAY_BUFFER, numbers, gl.STATIC_DRAW);
      gl.enableVertexAttribArray(slot);
      if (slot < 2) gl.vertexAttribPointer(slot, 3, gl.FLOAT, false, 0, 0);
      else gl.vertexAttribIPointer(slot, 1, gl.UNSIGNED_BYTE, 0, 0);
      return buffer;
    });
    gl.bindVertexArray(null);
    return { array, buffers, triangles: part.triangles.length, creases: part.creases.length };
  }

  function unload({ array, buffers }) {
    gl.deleteVertexArray(array);
    buffers.forEach((buffer) => gl.deleteBuffer(buffer));
  }

  const use = (chosen) => {
    spots = chosen.spots;
    gl.useProgram(chosen.program);
  };
  const set = (tone, lamp, knife, ink = tone, pen = 0) => {
    gl.uniform4fv(spots.tone, tone);
    gl.uniform3fv(spots.lamp, lamp);
    gl.uniform4fv(spots.knife, knife);
    gl.uniform4fv(spots.ink, ink);
    gl.uniform1f(spots.pen, pen);
  };
  const place = (item, extra) => {
    gl.bindVertexArray(item.mesh.array);
    gl.uniform3fv(spots.shift, [0, 0, item.shift]);
    gl.uniform1f(spots.extra, extra);
  };
  const faces = (item) => gl.drawArrays(gl.TRIANGLES, 0, item.mesh.triangles);
  const lines = (item) => gl.drawArrays(gl.LINES, item.mesh.triangles, item.mesh.creases);

  // Every pixel whose line of sight enters a part more often than it leaves it before the knife shows cut material:
  // count by flipping one stencil bit, then paint the part's rectangle on the cut where the bit is set, and clear it.
  function cap(item, tone, shot, slot) {
    gl.enable(gl.STENCIL_TEST);
    gl.colorMask(false, false, false, false);
    gl.depthMask(false);
    gl.disable(gl.DEPTH_TEST);
    gl.stencilFunc(gl.ALWAYS, 0, 1);
    gl.stencilOp(gl.KEEP, gl.KEEP, gl.INVERT);
    use(count);
    place(item, shot.extra);
    set(tone, DARK, shot.knife);
    faces(item);
    use(cut);
    gl.colorMask(true, true, true, true);
    gl.depthMask(true);
    gl.enable(gl.DEPTH_TEST);
    gl.stencilFunc(gl.EQUAL, 1, 1);
    gl.stencilOp(gl.ZERO, gl.ZERO, gl.ZERO);
    gl.bindVertexArray(quads.array);
    gl.uniform3fv(spots.shift, DARK);
    set(tone, DARK, OPEN);
    gl.enable(gl.POLYGON_OFFSET_FILL); // a hair behind its own outline
    gl.polygonOffset(1, 1);
    gl.drawArrays(gl.TRIANGLES, 6 * slot, 6);
    gl.disable(gl.POLYGON_OFFSET_FILL);
    gl.disable(gl.STENCIL_TEST);
  }

  // shot: lens, knife or null, extra, dense (pixels of the screen to a CSS pixel), items (visible, from below), whether
  // the eye is above, edges of the cut, the marked key.
  function begin(shot, width, height) {
    if (shot.knife) {
      cut ??= programOf(gl, CUT);
      count ??= programOf(gl, COUNT);
      use(count);
      gl.uniformMatrix4fv(spots.lens, false, shot.lens);
    }
    use(shot.knife ? cut : whole);
    gl.vertexAttribI4ui(2, 0, 0, 0, 0); // what has no marks of its own has no creases
    gl.viewport(0, 0, width, height);
    gl.uniformMatrix4fv(spots.lens, false, shot.lens);
    gl.enable(gl.DEPTH_TEST);
    gl.depthFunc(gl.LEQUAL);
    gl.disable(gl.BLEND);
    gl.clearColor(0, 0, 0, 0);
    gl.clear(gl.COLOR_BUFFER_BIT | gl.DEPTH_BUFFER_BIT | gl.STENCIL_BUFFER_BIT);
  }

  function solids(shot, toneOf, inkOf, lamp) {
    const knife = shot.knife ?? OPEN;
    // the nearest first, so that what they hide costs nothing
    const slots = shot.items.map((_, slot) => (shot.above ? shot.items.length - 1 - slot : slot));
    slots.forEach((slot) => {
      const item = shot.items[slot];
      if (item.part.translucent) return;
      place(item, shot.extra);
      set(toneOf(item), lamp, knife, inkOf(item), lamp === DARK ? 0 : PEN * shot.dense);
      gl.enable(gl.CULL_FACE); // closed parts show their insides nowhere: a cut is covered by its faces
      faces(item);
      gl.disable(gl.CULL_FACE);
      if (shot.knife) cap(item, toneOf(item), shot, slot);
    });
  }

  function draw(shot, width, height) {
    begin(shot, width, height);
    const knife = shot.knife ?? OPEN;
    const tone = (item, share, alpha) => [...item.part.colour.map((part) => (part / 255) * share), alpha];
    const dark = (item) => (item.part.translucent ? tone(item, 0.8, 0.85) : tone(item, 0.42, 1));
    solids(shot, (item) => tone(item, 1, 1), dark, LAMP);
    gl.enable(gl.BLEND);
    gl.blendFunc(gl.ONE, gl.ONE_MINUS_SRC_ALPHA);
    gl.depthMask(false);
    if (shot.knife) {
      gl.bindVertexArray(edges.array);
      gl.uniform3fv(spots.shift, DARK);
      shot.items.forEach((item, slot) => {
        const [from, count] = shot.edges.ranges[slot];
        set([...dark(item).slice(0, 3), item.part.translucent ? 1 : item.line], DARK, OPEN);
        gl.drawArrays(gl.LINES, from, count);
      });
    }
    gl.enable(gl.POLYGON_OFFSET_FILL); // the film lies on what it touches
    gl.polygonOffset(-1, -1024);
    shot.items.filter((item) => item.part.translucent).forEach((item) => {
      place(item, shot.extra);
      set(tone(item, 1, 0.2), LAMP, knife, dark(item), PEN * shot.dense);
      faces(item);
    });
    gl.disable(gl.POLYGON_OFFSET_FILL);
    const marked = shot.items.find((item) => item.part.key === shot.mark);
    if (marked) {
      gl.disable(gl.DEPTH_TEST); // the marked part's outline shows through whatever covers it
      place(marked, shot.extra);
      set([...shot.markColour.map((part) => part / 255), 1], DARK, knife);
      lines(marked);
    }
    gl.depthMask(true);
  }

  function loadCut(corners, ends) {
    fill(gl, quads, corners);
    fill(gl, edges, ends);
  }

  // The slot of the part under a pixel, or -1: translucent parts only where nothing solid lies behind them.
  function slotAt(shot, width, height, x, y) {
    if (!target || target.width !== width || target.height !== height) {
      if (target) drop(target);
      target = roomFor(width, height);
    }
    gl.bindFramebuffer(gl.FRAMEBUFFER, target.frame);
    gl.enable(gl.SCISSOR_TEST);
    gl.scissor(x, y, 1, 1);
    begin(shot, width, height);
    const ids = new Map(shot.items.map((item, slot) => [item, [((slot + 1) & 255) / 255, ((slot + 1) >> 8) / 255, 0, 1]]));
    const seen = new Uint8Array(4);
    solids(shot, (item) => ids.get(item), (item) => ids.get(item), DARK);
    gl.readPixels(x, y, 1, 1, gl.RGBA, gl.UNSIGNED_BYTE, seen);
    if (seen[0] + seen[1] === 0) {
      shot.items.filter((item) => item.part.translucent).forEach((item) => {
        place(item, shot.extra);
        set(ids.get(item), DARK, shot.knife ?? OPEN);
        faces(item);
      });
      gl.readPixels(x, y, 1, 1, gl.RGBA, gl.UNSIGNED_BYTE, seen);
    }
    gl.disable(gl.SCISSOR_TEST);
    gl.bindFramebuffer(gl.FRAMEBUFFER, null);
    return seen[0] + 256 * seen[1] - 1;
  }

  function roomFor(width, height) {
    const frame = gl.createFramebuffer();
    gl.bindFramebuffer(gl.FRAMEBUFFER, frame);
    const rooms = [[gl.RGBA8, gl.COLOR_ATTACHMENT0], [gl.DEPTH24_STENCIL8, gl.DEPTH_STENCIL_ATTACHMENT]];
    const stores = rooms.map(([kind, slot]) => {
      const store = gl.createRenderbuffer();
      gl.bindRenderbuffer(gl.RENDERBUFFER, store);
      gl.renderbufferStorage(gl.RENDERBUFFER, kind, width, height);
      gl.framebufferRenderbuffer(gl.FRAMEBUFFER, slot, gl.RENDERBUFFER, store);
      return store;
    });
    return { frame, stores, width, height };
  }

  function drop({ frame, stores }) {
    gl.deleteFramebuffer(frame);
    stores.forEach((store) => gl.deleteRenderbuffer(store));
  }

  return { load, unload, loadCut, draw, slotAt };
}
