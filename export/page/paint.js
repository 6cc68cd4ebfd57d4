// Drawing with WebGL 2: faces, crease lines, and the solid faces of a cut. It knows parts and a lens, no controls.

const VERTEX = `#version 300 es
layout(location = 0) in vec3 place;
layout(location = 1) in vec3 growth;
uniform mat4 lens;
uniform vec3 shift;
uniform float extra;
out vec3 spot;
void main() {
  spot = place + extra * growth;
  spot += shift;
  gl_Position = lens * vec4(spot, 1.0);
}`;

const FRAGMENT = `#version 300 es
precision highp float;
in vec3 spot;
uniform vec4 knife;
uniform vec4 tone;
uniform vec3 lamp;
out vec4 shown;
void main() {
  vec3 flat_normal = normalize(cross(dFdx(spot), dFdy(spot)));
  if (dot(knife.xyz, spot) > knife.w) discard;
  float light = lamp == vec3(0.0) ? 1.0 : 0.64 + 0.36 * (0.5 + 0.5 * dot(flat_normal, lamp));
  shown = vec4(tone.rgb * light * tone.a, tone.a);
}`;

const LAMP = [0.303, -0.404, 0.863];
const DARK = [0, 0, 0];
const OPEN = [0, 0, 0, 1];

function programOf(gl) {
  const program = gl.createProgram();
  for (const [kind, text] of [[gl.VERTEX_SHADER, VERTEX], [gl.FRAGMENT_SHADER, FRAGMENT]]) {
    const shader = gl.createShader(kind);
    gl.shaderSource(shader, text);
    gl.compileShader(shader);
    gl.attachShader(program, shader);
  }
  gl.linkProgram(program);
  if (!gl.getProgramParameter(program, gl.LINK_STATUS) && !gl.isContextLost()) {
    throw new Error(`The picture's program does not link: ${gl.getProgramInfoLog(program)}`);
  }
  return program;
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
  const program = programOf(gl);
  const spots = Object.fromEntries(
    ["lens", "shift", "extra", "knife", "tone", "lamp"].map((name) => [name, gl.getUniformLocation(program, name)]),
  );
  const quads = looseOf(gl);
  const edges = looseOf(gl);
  let target = null; // where ids are drawn for picking, as large as the picture

  function load(part) {
    const array = gl.createVertexArray();
    gl.bindVertexArray(array);
    const buffers = [part.points, part.growth].map((numbers, slot) => {
      const buffer = gl.createBuffer();
      gl.bindBuffer(gl.ARRAY_BUFFER, buffer);
      gl.bufferData(gl.ARRAY_BUFFER, numbers, gl.STATIC_DRAW);
      gl.enableVertexAttribArray(slot);
      gl.vertexAttribPointer(slot, 3, gl.FLOAT, false, 0, 0);
      return buffer;
    });
    const order = gl.createBuffer();
    gl.bindBuffer(gl.ELEMENT_ARRAY_BUFFER, order);
    gl.bufferData(gl.ELEMENT_ARRAY_BUFFER, 4 * (part.triangles.length + part.creases.length), gl.STATIC_DRAW);
    gl.bufferSubData(gl.ELEMENT_ARRAY_BUFFER, 0, part.triangles);
    gl.bufferSubData(gl.ELEMENT_ARRAY_BUFFER, 4 * part.triangles.length, part.creases);
    gl.bindVertexArray(null);
    return { array, buffers: [...buffers, order], triangles: part.triangles.length, creases: part.creases.length };
  }

  function unload({ array, buffers }) {
    gl.deleteVertexArray(array);
    buffers.forEach((buffer) => gl.deleteBuffer(buffer));
  }

  const set = (tone, lamp, knife) => {
    gl.uniform4fv(spots.tone, tone);
    gl.uniform3fv(spots.lamp, lamp);
    gl.uniform4fv(spots.knife, knife);
  };
  const place = (item, extra) => {
    gl.bindVertexArray(item.mesh.array);
    gl.uniform3fv(spots.shift, [0, 0, item.shift]);
    gl.uniform1f(spots.extra, extra);
  };
  const faces = (item) => gl.drawElements(gl.TRIANGLES, item.mesh.triangles, gl.UNSIGNED_INT, 0);
  const lines = (item) => gl.drawElements(gl.LINES, item.mesh.creases, gl.UNSIGNED_INT, 4 * item.mesh.triangles);

  // Every pixel whose line of sight enters a part more often than it leaves it before the knife shows cut material:
  // count by flipping one stencil bit, then paint the part's rectangle on the cut where the bit is set, and clear it.
  function cap(item, tone, shot, slot) {
    gl.enable(gl.STENCIL_TEST);
    gl.colorMask(false, false, false, false);
    gl.depthMask(false);
    gl.disable(gl.DEPTH_TEST);
    gl.stencilFunc(gl.ALWAYS, 0, 1);
    gl.stencilOp(gl.KEEP, gl.KEEP, gl.INVERT);
    place(item, shot.extra);
    set(tone, DARK, shot.knife);
    faces(item);
    gl.colorMask(true, true, true, true);
    gl.depthMask(true);
    gl.enable(gl.DEPTH_TEST);
    gl.stencilFunc(gl.EQUAL, 1, 1);
    gl.stencilOp(gl.ZERO, gl.ZERO, gl.ZERO);
    gl.bindVertexArray(quads.array);
    gl.uniform3fv(spots.shift, DARK);
    set(tone, DARK, OPEN);
    gl.drawArrays(gl.TRIANGLES, 6 * slot, 6);
    gl.disable(gl.STENCIL_TEST);
  }

  // shot: lens, knife or null, extra, items (visible, from below), quads and edges of the cut, the marked key.
  function begin(shot, width, height) {
    gl.useProgram(program);
    gl.viewport(0, 0, width, height);
    gl.uniformMatrix4fv(spots.lens, false, shot.lens);
    gl.enable(gl.DEPTH_TEST);
    gl.depthFunc(gl.LEQUAL);
    gl.disable(gl.BLEND);
    gl.clearColor(0, 0, 0, 0);
    gl.clear(gl.COLOR_BUFFER_BIT | gl.DEPTH_BUFFER_BIT | gl.STENCIL_BUFFER_BIT);
    gl.enable(gl.POLYGON_OFFSET_FILL); // faces a hair behind their own creases, else the lines stitch
    gl.polygonOffset(1, 32);
  }

  function solids(shot, toneOf, lamp) {
    const knife = shot.knife ?? OPEN;
    shot.items.forEach((item, slot) => {
      if (item.part.translucent) return;
      place(item, shot.extra);
      set(toneOf(item), lamp, knife);
      faces(item);
      if (shot.knife) cap(item, toneOf(item), shot, slot);
    });
  }

  function draw(shot, width, height) {
    begin(shot, width, height);
    const knife = shot.knife ?? OPEN;
    const tone = (item, share, alpha) => [...item.part.colour.map((part) => (part / 255) * share), alpha];
    solids(shot, (item) => tone(item, 1, 1), LAMP);
    gl.enable(gl.BLEND);
    gl.blendFunc(gl.ONE, gl.ONE_MINUS_SRC_ALPHA);
    gl.depthMask(false);
    const outline = (item) => {
      gl.disable(gl.POLYGON_OFFSET_FILL); // some drivers push lines back as well
      place(item, shot.extra);
      set(item.part.translucent ? tone(item, 0.8, 0.8) : tone(item, 0.42, item.line), DARK, knife);
      lines(item);
    };
    shot.items.filter((item) => !item.part.translucent).forEach(outline);
    if (shot.knife) {
      gl.disable(gl.POLYGON_OFFSET_FILL);
      gl.bindVertexArray(edges.array);
      gl.uniform3fv(spots.shift, DARK);
      shot.items.forEach((item, slot) => {
        const [from, count] = shot.edges.ranges[slot];
        set(item.part.translucent ? tone(item, 0.8, 1) : tone(item, 0.42, item.line), DARK, OPEN);
        gl.drawArrays(gl.LINES, from, count);
      });
    }
    shot.items.filter((item) => item.part.translucent).forEach((item) => {
      gl.enable(gl.POLYGON_OFFSET_FILL);
      place(item, shot.extra);
      set(tone(item, 1, 0.2), LAMP, knife);
      faces(item);
      outline(item);
    });
    const marked = shot.items.find((item) => item.part.key === shot.mark);
    if (marked) {
      gl.disable(gl.DEPTH_TEST); // the marked part's outline shows through whatever covers it
      place(marked, shot.extra);
      set([...shot.markColour.map((part) => part / 255), 1], DARK, knife);
      lines(marked);
    }
    gl.depthMask(true);
    gl.disable(gl.POLYGON_OFFSET_FILL);
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
    solids(shot, (item) => ids.get(item), DARK);
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
