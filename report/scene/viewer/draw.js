// Faces flat and shaded, edges dark, the machine at rest thin behind: with WebGL 2.

const FACES = `#version 300 es
in vec3 at;
in vec3 by;
uniform mat4 view;
uniform float bend;
out vec3 place;
out float moved;
void main() {
  place = at + bend * by;
  moved = length(by);
  gl_Position = view * vec4(place, 1.0);
}`;

const SHADE = `#version 300 es
precision highp float;
in vec3 place;
in float moved;
uniform vec3 toward;
uniform vec3 light;
uniform vec4 ink;
uniform vec3 scale[7];
uniform float most;
uniform bool coloured;
out vec4 colour;
void main() {
  vec3 normal = normalize(cross(dFdx(place), dFdy(place)));
  if (dot(normal, toward) < 0.0) normal = -normal;
  vec3 c = ink.rgb;
  if (coloured) {
    float at = clamp(most > 0.0 ? moved / most : 0.0, 0.0, 1.0) * 6.0;
    int i = min(int(at), 5);
    c = mix(scale[i], scale[i + 1], at - float(i));
  }
  colour = vec4(c * (0.80 + 0.20 * clamp(dot(normal, light), -0.5, 1.0)), ink.a);
  colour.rgb *= colour.a;
}`;

// An edge is a narrow rectangle on the picture: lines of WebGL are one pixel wide, whatever the screen.
const LINES = `#version 300 es
in vec2 corner;
in vec3 at0;
in vec3 by0;
in vec3 at1;
in vec3 by1;
uniform mat4 view;
uniform float bend;
uniform vec2 screen;
uniform float width;
uniform float nearer;
void main() {
  vec4 a = view * vec4(at0 + bend * by0, 1.0), b = view * vec4(at1 + bend * by1, 1.0);
  vec2 d = (b.xy - a.xy) * screen;
  d = length(d) > 0.0 ? normalize(d) : vec2(1.0, 0.0);
  vec4 p = mix(a, b, corner.x);
  p.xy += (vec2(-d.y, d.x) * corner.y + d * (2.0 * corner.x - 1.0) * 0.5) * width / screen;
  p.z -= nearer;
  gl_Position = p;
}`;

const PLAIN = `#version 300 es
precision mediump float;
uniform vec4 ink;
out vec4 colour;
void main() { colour = vec4(ink.rgb * ink.a, ink.a); }`;

// painter draws on a canvas; null without WebGL 2.
function painter(canvas) {
  const gl = canvas.getContext('webgl2', { antialias: true, alpha: true, premultipliedAlpha: true });
  if (!gl) return null;
  let faces, lines, quad, loaded = [], arrows;

  const begin = () => {
    faces = program(gl, FACES, SHADE);
    lines = program(gl, LINES, PLAIN);
    quad = buffer(gl, new Float32Array([0, -1, 1, -1, 0, 1, 1, 1]));
    loaded = [];
  };
  begin();

  const free = (list) => {
    for (const b of list) {
      gl.deleteVertexArray(b.faces);
      gl.deleteVertexArray(b.edges);
      b.buffers.forEach((x) => gl.deleteBuffer(x));
    }
  };
  // load takes what is to be drawn: for each body its corners, their movements and how they are joined.
  const load = (shape, bodies) => {
    free(loaded);
    loaded = shape.map((s, i) => upload(gl, faces, lines, quad, s, bodies[i].mesh));
  };
  const signpost = (ends) => {
    if (arrows) free([arrows]);
    const at = new Float32Array(ends.flat());
    const edges = Uint16Array.from({ length: ends.length }, (_, i) => i);
    arrows = upload(gl, faces, lines, quad, { at, by: new Float32Array(at.length) },
      { triangles: new Uint16Array(0), edges });
  };

  const paint = (v) => {
    gl.viewport(0, 0, canvas.width, canvas.height);
    gl.clearColor(0, 0, 0, 0);
    gl.clear(gl.COLOR_BUFFER_BIT | gl.DEPTH_BUFFER_BIT);
    gl.enable(gl.DEPTH_TEST);
    gl.depthFunc(gl.LEQUAL);
    gl.enable(gl.BLEND);
    gl.blendFunc(gl.ONE, gl.ONE_MINUS_SRC_ALPHA);
    const strokes = (list, ink, width, bend, nearer) => {
      gl.useProgram(lines.id);
      gl.uniformMatrix4fv(lines.at.view, false, v.matrix);
      gl.uniform2f(lines.at.screen, canvas.width, canvas.height);
      gl.uniform1f(lines.at.width, width * v.pixels);
      gl.uniform1f(lines.at.bend, bend);
      gl.uniform1f(lines.at.nearer, nearer);
      gl.uniform4fv(lines.at.ink, ink);
      for (const b of list) {
        gl.bindVertexArray(b.edges);
        gl.drawArraysInstanced(gl.TRIANGLE_STRIP, 0, 4, b.count);
      }
    };
    const fill = (b, i, alpha) => {
      gl.uniform4f(faces.at.ink, ...v.inks[i], alpha);
      gl.bindVertexArray(b.faces);
      gl.drawElements(gl.TRIANGLES, b.triangles, gl.UNSIGNED_SHORT, 0);
    };
    const useFaces = () => {
      gl.useProgram(faces.id);
      gl.uniformMatrix4fv(faces.at.view, false, v.matrix);
      gl.uniform1f(faces.at.bend, v.bend);
      gl.uniform3fv(faces.at.toward, v.axes[2]);
      gl.uniform3fv(faces.at.light, v.light);
      gl.uniform3fv(faces.at.scale, v.scale);
      gl.uniform1f(faces.at.most, v.most);
      gl.uniform1i(faces.at.coloured, v.coloured ? 1 : 0);
    };
    const solid = loaded.filter((_, i) => !v.through.has(i));
    gl.disable(gl.DEPTH_TEST);
    if (v.ghost) strokes(loaded, v.ghostInk, 1, 0, 0);
    if (arrows) strokes([arrows], v.labelInk, 1.6, 0, 0);
    gl.enable(gl.DEPTH_TEST);
    useFaces();
    gl.enable(gl.POLYGON_OFFSET_FILL);
    gl.polygonOffset(1, 1);
    loaded.forEach((b, i) => { if (!v.through.has(i)) fill(b, i, 1); });
    gl.disable(gl.POLYGON_OFFSET_FILL);
    strokes(solid, v.edgeInk, 1.1, v.bend, 0.0004);
    if (v.through.size > 0) {
      gl.depthMask(false);
      useFaces();
      loaded.forEach((b, i) => { if (v.through.has(i)) fill(b, i, 0.14); });
      gl.depthMask(true);
      strokes(loaded.filter((_, i) => v.through.has(i)), v.throughInk, 0.8, v.bend, 0.0004);
    }
    if (loaded[v.picked]) {
      gl.disable(gl.DEPTH_TEST); // faint where something hides it
      strokes([loaded[v.picked]], [...v.pickedInk.slice(0, 3), 0.4], 1.4, v.bend, 0);
      gl.enable(gl.DEPTH_TEST);
      strokes([loaded[v.picked]], v.pickedInk, 2.6, v.bend, 0.0008);
    }
    gl.bindVertexArray(null);
  };
  return { load, signpost, paint, begin, lost: () => gl.isContextLost() };
}

function buffer(gl, values, target = gl.ARRAY_BUFFER) {
  const b = gl.createBuffer();
  gl.bindBuffer(target, b);
  gl.bufferData(target, values, gl.STATIC_DRAW);
  return b;
}

function upload(gl, faces, lines, quad, { at, by }, mesh) {
  const out = { triangles: mesh.triangles.length, count: mesh.edges.length / 2, buffers: [] };
  const keep = (b) => { out.buffers.push(b); return b; };
  const field = (program, name, values, size, each) => {
    const place = program.in[name];
    if (values instanceof WebGLBuffer) gl.bindBuffer(gl.ARRAY_BUFFER, values);
    else keep(buffer(gl, values));
    gl.enableVertexAttribArray(place);
    gl.vertexAttribPointer(place, size, gl.FLOAT, false, 0, 0);
    if (each) gl.vertexAttribDivisor(place, 1);
  };
  out.faces = gl.createVertexArray();
  gl.bindVertexArray(out.faces);
  field(faces, 'at', at, 3);
  field(faces, 'by', by, 3);
  keep(buffer(gl, mesh.triangles, gl.ELEMENT_ARRAY_BUFFER));
  out.edges = gl.createVertexArray();
  gl.bindVertexArray(out.edges);
  field(lines, 'corner', quad, 2);
  const ends = (values, end) => {
    const list = new Float32Array(out.count * 3);
    for (let i = 0; i < out.count; i++) {
      const from = 3 * mesh.edges[2 * i + end];
      list.set(values.subarray(from, from + 3), 3 * i);
    }
    return list;
  };
  field(lines, 'at0', ends(at, 0), 3, true);
  field(lines, 'by0', ends(by, 0), 3, true);
  field(lines, 'at1', ends(at, 1), 3, true);
  field(lines, 'by1', ends(by, 1), 3, true);
  gl.bindVertexArray(null);
  return out;
}

function program(gl, vertex, fragment) {
  const id = gl.createProgram();
  for (const [kind, source] of [[gl.VERTEX_SHADER, vertex], [gl.FRAGMENT_SHADER, fragment]]) {
    const s = gl.createShader(kind);
    gl.shaderSource(s, source);
    gl.compileShader(s);
    if (!gl.getShaderParameter(s, gl.COMPILE_STATUS) && !gl.isContextLost()) throw new Error(gl.getShaderInfoLog(s));
    gl.attachShader(id, s);
  }
  gl.linkProgram(id);
  const out = { id, at: {}, in: {} };
  for (let i = 0; i < gl.getProgramParameter(id, gl.ACTIVE_UNIFORMS); i++) {
    const name = gl.getActiveUniform(id, i).name;
    out.at[name.replace('[0]', '')] = gl.getUniformLocation(id, name);
  }
  for (let i = 0; i < gl.getProgramParameter(id, gl.ACTIVE_ATTRIBUTES); i++) {
    const name = gl.getActiveAttrib(id, i).name;
    out.in[name] = gl.getAttribLocation(id, name);
  }
  return out;
}
