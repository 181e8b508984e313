/**
 * A viewer of houses: models in one canvas, one camera and one sun for all of them.
 *
 * Everything is in the house's frame and in metres: X to the right along the front, Y into the
 * house, Z up. Nothing is drawn until something changes, and then once. No rule of the orders, of
 * the sun or of finishes is kept here: whoever opens the viewer hands them in.
 *
 *   const viewer = createViewer(element, {finishes, views, paper});
 *     element   is filled by the canvas; give it a size
 *     finishes  {clay: {role: {colour: [r, g, b], uneven}}, materials: {...}}, linear colours;
 *               a role that is missing takes its first step's, else that of ""
 *     views     {name: {kind: "ortho"|"perspective", position, target, across}}, across in metres
 *               for ortho, else the angle of view in radians; shift: [right, up] of the lens, as
 *               tangents, which keeps uprights upright; hides: keys of parts that the view
 *               leaves out, which cast their shadows still; more views can be added later
 *     paper     background, a CSS colour
 *
 *   await viewer.load(bytes)              a .glb whose scenes are houses; gives their names
 *   viewer.house(name)                    a house by name, made empty if there is none:
 *     .update({removed: [key], parts: [{key, role, positions, indices, normals, matrices}]})
 *                                         Float32Array, Uint32Array; matrices 16 a copy, column
 *                                         by column, or left out; a key that stands is replaced
 *     .keys()  .bounds()                  parts' keys; [[x, y, z], [x, y, z]] without the setting
 *   viewer.forget(name)                   drop a house
 *   viewer.show([name, ...])              one, two or four side by side, each in a pane
 *   viewer.setSun(direction | null, {beam, sky})   towards the sun; null or below: none. W/m2
 *   viewer.setView(name)                  a view by name; viewer.addView(name, view)
 *   viewer.setLook("clay" | "materials" | "ink")     ink: lines, and a wash where no sun falls
 *   viewer.pose()                         the camera as it stands now, as a view; viewer.turned()
 *                                         whether it looks another way than the view that was set
 *   viewer.setFigure(shown)               the scale figure
 *   viewer.setZoom(enabled)               whether wheel and pinch come nearer
 *   viewer.turn(right, up)  .near(factor)  turn by radians, come nearer by a factor
 *   viewer.pick(clientX, clientY)         {house, key, copy, point} under the pointer, or null
 *   viewer.mark(keys)                     tint these parts
 *   viewer.project([x, y, z], pane)       [x, y] CSS pixels from the element's upper left, or null
 *   viewer.pane(i)                        [x, y, width, height] of a pane, likewise
 *   viewer.unproject(clientX, clientY, y) the point of the plane at depth y under the pointer
 *   viewer.setBackdrop({image, left, right, bottom, top, y, opacity, over} | null)
 *                                         a picture on an upright plane, behind or over the house
 *   viewer.overlay                        a THREE.Group drawn over every pane
 *   viewer.sunMask({left, right, bottom, top, width, height}, name)
 *                                         Uint8Array, rows from the top: 2 in sun, 1 in shade, 0 sky
 *   viewer.redraw()  .settled()  .dispose()   settled: a promise, when all that is in hand is drawn
 *   viewer.held()                         {geometries, textures} that stand on the card
 *   viewer.addEventListener("drawn" | "viewed" | "picked", ...)   picked: a click; detail as pick()
 */

import * as THREE from "three";
import { OrbitControls } from "three/addons/controls/OrbitControls.js";
import { GLTFLoader } from "three/addons/loaders/GLTFLoader.js";

const SUN_MAP = { 1: 4096, 2: 4096, 3: 2048, 4: 2048 }; // pixels across, by panes
const FAR_MAP = 2048;
const SKY_TILE = 192; // pixels across: coarse, so that each direction's shade has a soft edge
const HARDWARE = { skyRoot: 4, taps: 3, antialias: true, first: 1, haste: 2 }; // skyRoot squared: directions
const SOFTWARE = { skyRoot: 3, taps: 2, antialias: false, first: 2, haste: 4 }; // where no card draws
const MANY = 150; // copies: tiles and bricks lie on what casts for them where haste is made
const SKY_LEAST_M = 0.12;
const FAR_LEAST_M = 1.0; // what is smaller throws nothing far in haste
const REST_MS = 180;
const SLOW_MS = 90; // a frame slower than this is drawn coarser while the hand moves
const BEYOND_M = 200; // ground that lies in shadow behind what casts it
const LEAST_EYE_M = 0.25;
const SETTING = "setting/";
const FIGURE = "setting/figure";

// --- light -------------------------------------------------------------------------------

const VERTEX = /* glsl */ `
  varying vec3 vPlace;
  varying vec3 vNormal;
  varying float vOwn;
  void main() {
    mat4 placed = modelMatrix;
    vOwn = 0.5;
    #ifdef USE_INSTANCING
      placed = modelMatrix * instanceMatrix;
      vOwn = fract(sin(dot(instanceMatrix[3].xyz, vec3(12.9898, 78.233, 37.719))) * 43758.5453);
    #endif
    vec4 place = placed * vec4(position, 1.0);
    vPlace = place.xyz;
    vNormal = mat3(placed) * normal;
    gl_Position = projectionMatrix * viewMatrix * place;
  }
`;

const FRAGMENT = /* glsl */ `
  #define SKY (SKY_ROOT * SKY_ROOT)
  precision highp sampler2DShadow;
  uniform vec3 colour, tint;
  uniform float uneven, glass, ground, tinted, many;
  uniform vec3 toSun, sunLight, skyLight, paper;
  uniform float bounce, among, exposure; // off the ground; among the walls themselves
  uniform mat4 sunFrame, farFrame;
  uniform sampler2DShadow sunMap, farMap, skyMap;
  uniform vec2 sunTexel;              // metres, and a share of the map
  uniform float farTexel, hasFar;
  uniform vec3 skyTo[SKY], skyRight[SKY], skyUp[SKY];
  uniform vec4 skyRound;              // the middle and the radius of what casts
  uniform int skyKnown;
  uniform sampler2D openMap;          // the sky's light, pixel by pixel, where it is known
  uniform float hasOpen;
  varying vec3 vPlace;
  varying vec3 vNormal;
  varying float vOwn;

  float within(vec3 at) {
    vec3 inside = step(vec3(0.0), at) * step(at, vec3(1.0));
    return inside.x * inside.y * inside.z;
  }

  // Few taps, each already smoothed over a texel by the hardware: an edge two texels wide.
  float sunReaches(vec3 place, vec3 face) {
    float slant = 1.0 - clamp(dot(face, toSun), 0.0, 1.0);
    vec3 at = (sunFrame * vec4(place + face * sunTexel.x * (0.4 + 1.1 * slant), 1.0)).xyz;
    if (within(at) > 0.5) {
      float sum = 0.0;
      for (int i = 0; i < TAPS; i++) for (int j = 0; j < TAPS; j++) {
        vec2 off = vec2(i, j) / float(TAPS - 1) - 0.5;
        sum += texture(sunMap, at + vec3(off * sunTexel.y, 0.0));
      }
      return sum / float(TAPS * TAPS);
    }
    if (hasFar < 0.5) return 1.0;
    at = (farFrame * vec4(place + face * farTexel * (0.4 + 1.1 * slant), 1.0)).xyz;
    return within(at) > 0.5 ? texture(farMap, at) : 1.0;
  }

  // Light of an even sky, once all its directions are cast, and how open the place is.
  vec2 skyReaches(vec3 place, vec3 face, vec3 normal) {
    if (skyKnown < SKY) return vec2(0.5 + 0.5 * normal.z, 0.6 + 0.4 * normal.z);
    float sum = 0.0, open = 0.0;
    for (int i = 0; i < SKY; i++) {
      float square = max(dot(normal, skyTo[i]), 0.0);
      vec3 off = (place + face * 0.009 * skyRound.w - skyRound.xyz) / skyRound.w;
      vec3 at = 0.5 + 0.5 * vec3(dot(off, skyRight[i]), dot(off, skyUp[i]), -dot(off, skyTo[i]));
      float seen = 1.0;
      if (within(at) > 0.5) {
        vec2 tile = vec2(float(i % SKY_ROOT), float(i / SKY_ROOT));
        vec2 inTile = clamp(at.xy, 0.006, 0.994);
        seen = texture(skyMap, vec3((tile + inTile) / float(SKY_ROOT), at.z));
      }
      sum += square * seen;
      open += seen;
    }
    return vec2(2.0 * sum, open) / float(SKY);
  }

  void main() {
    vec3 face = normalize(cross(dFdx(vPlace), dFdy(vPlace)));
    vec3 normal = normalize(vNormal) * (gl_FrontFacing ? 1.0 : -1.0);
    if (dot(face, normal) < 0.0) face = -face;
    #ifdef OPEN
      gl_FragColor = vec4(skyReaches(vPlace, face, normal), 0.0, 1.0);
      return;
    #endif
    float square = dot(face, toSun);
    float lit = toSun.z > 0.0 && square > 0.0 ? sunReaches(vPlace, face) : 0.0;
    #ifdef INK
      // what lines are drawn by: the face's way, and light or shade; glass is darker
      vec2 way = 0.5 + 0.5 * (viewMatrix * vec4(normal, 0.0)).xy;
      float sunny = lit * step(0.03, square);
      gl_FragColor = vec4(way, many, 0.25 + 0.5 * sunny + 0.25 * (1.0 - glass));
    #elif defined(MASK)
      gl_FragColor = vec4(lit > 0.5 ? 1.0 : 0.5, 0.0, 0.0, 1.0);
    #else
      vec3 own = colour * (1.0 + uneven * (vOwn - 0.5));
      vec2 sky = hasOpen > 0.5 ? texelFetch(openMap, ivec2(gl_FragCoord.xy), 0).rg
        : skyReaches(vPlace, face, normal);
      float fromSun = max(dot(normal, toSun), 0.0) * lit * smoothstep(0.0, 0.06, square);
      vec3 level = sunLight * max(toSun.z, 0.0) + skyLight;
      vec3 thrown = level * bounce * (0.5 - 0.5 * normal.z) * (0.3 + 0.7 * sky.y);
      vec3 light = sunLight * fromSun + skyLight * sky.x + thrown + level * among;
      vec3 seen = own * light;
      if (glass > 0.5) {
        vec3 look = isOrthographic ? normalize(vec3(viewMatrix[0][2], viewMatrix[1][2], viewMatrix[2][2]))
          : normalize(cameraPosition - vPlace);
        float edge = 0.08 + 0.92 * pow(1.0 - max(dot(look, normal), 0.0), 5.0);
        vec3 mirrored = reflect(-look, normal);
        vec3 above = mix(0.35 * skyLight, skyLight, smoothstep(-0.1, 0.35, mirrored.z));
        seen += edge * above * (0.4 + 0.6 * sky.y);
      }
      seen = 1.0 - exp(-1.35 * exposure * seen);
      seen = mix(seen, tint, tinted);
      seen = mix(seen * 12.92, 1.055 * pow(max(seen, 1e-4), vec3(1.0 / 2.4)) - 0.055,
        step(0.0031308, seen));
      float away = ground * smoothstep(skyRound.w * 1.2, skyRound.w * 2.6, distance(vPlace.xy, skyRound.xy));
      gl_FragColor = vec4(mix(seen, paper, away), 1.0);
    #endif
  }
`;

// Lines in ink where the surface turns or falls back, and a wash where no sun falls. Along a
// plane the depth of a buffer grows evenly, so that its second difference is what falls back.
const INKED = new THREE.ShaderMaterial({
  vertexShader: "varying vec2 at; void main() { at = 0.5 + 0.5 * position.xy; gl_Position = vec4(position.xy, 0.0, 1.0); }",
  fragmentShader: /* glsl */ `
    uniform sampler2D faces, depths;
    uniform vec2 pixel;
    uniform vec3 paper;
    uniform vec2 range;              // near and far
    uniform float flat_;             // without perspective
    varying vec2 at;
    float depth(vec2 off) { return texture2D(depths, at + off * pixel).r; }
    void main() {
      float own = depth(vec2(0.0));
      float away = range.x * range.y / (range.y - own * (range.y - range.x));
      float metres = flat_ > 0.5 ? range.y - range.x : away * away * (range.y - range.x) / (range.x * range.y);
      vec4 face = texture2D(faces, at);
      vec2 way = face.xy * 2.0 - 1.0;
      float few = face.b < 0.5 ? 1.0 : 0.0; // tiles and bricks have no lines of their own
      float fall = 0.0, turn = 0.0;
      for (int i = 0; i < 4; i++) {
        vec2 off = i == 0 ? vec2(1.0, 0.0) : i == 1 ? vec2(0.0, 1.0) : i == 2 ? vec2(1.0, 1.0) : vec2(1.0, -1.0);
        fall = max(fall, (depth(off) + depth(-off) - 2.0 * own) * metres);
        if (i < 2 && own < 1.0) {
          vec4 next = texture2D(faces, at + off * pixel);
          if (depth(off) < 1.0) turn = max(turn, distance(way, next.xy * 2.0 - 1.0));
        }
      }
      float slight = few * smoothstep(0.4, 0.7, turn);
      float clear = few * smoothstep(0.012, 0.03, fall);
      float outline = smoothstep(0.4, 0.8, fall);
      float ink = max(max(0.42 * slight, 0.75 * clear), outline);
      float tone = own >= 1.0 ? 1.0 : face.a > 0.9 ? 1.0 : face.a > 0.7 ? 0.62 : face.a > 0.45 ? 0.80 : 0.46;
      vec3 washed = mix(vec3(0.40, 0.42, 0.47), paper, tone);
      gl_FragColor = vec4(mix(washed, vec3(0.10, 0.10, 0.11), ink), 1.0);
    }
  `,
  depthTest: false,
  depthWrite: false,
});
INKED.uniforms = { faces: { value: null }, depths: { value: null }, pixel: { value: new THREE.Vector2() }, paper: { value: null }, range: { value: new THREE.Vector2() }, flat_: { value: 0 } };

const CASTING = new THREE.ShaderMaterial({
  vertexShader: /* glsl */ `
    void main() {
      mat4 placed = modelMatrix;
      #ifdef USE_INSTANCING
        placed = modelMatrix * instanceMatrix;
      #endif
      gl_Position = projectionMatrix * viewMatrix * placed * vec4(position, 1.0);
    }
  `,
  fragmentShader: "void main() { gl_FragColor = vec4(1.0); }",
  side: THREE.DoubleSide,
  polygonOffset: true,
  polygonOffsetFactor: 1.0,
  polygonOffsetUnits: 1.0,
});
CASTING.colorWrite = false;

/** A target of depth that answers whether a place lies before or behind it. */
function depthMap(renderer, size) {
  const depth = new THREE.DepthTexture(size, size, THREE.UnsignedIntType);
  depth.compareFunction = THREE.LessEqualCompare;
  depth.minFilter = depth.magFilter = THREE.LinearFilter;
  const target = new THREE.WebGLRenderTarget(size, size, { depthTexture: depth, depthBuffer: true });
  renderer.initRenderTarget(target);
  return target;
}

/** An even spread of directions over the upper half of the sky. */
function skyDirections(count) {
  const turn = Math.PI * (3 - Math.sqrt(5));
  return Array.from({ length: count }, (_, i) => {
    const z = (i + 0.5) / count;
    const flat = Math.sqrt(1 - z * z);
    return new THREE.Vector3(flat * Math.cos(i * turn), flat * Math.sin(i * turn), z);
  });
}

/** A square camera that looks from `towards` onto a box, its frame just holding the box. */
function castingCamera(towards, box, whole) {
  const camera = new THREE.OrthographicCamera();
  camera.up.set(0, Math.abs(towards.z) > 0.99 ? 1 : 0, Math.abs(towards.z) > 0.99 ? 0 : 1);
  camera.position.copy(towards);
  camera.lookAt(0, 0, 0);
  camera.updateMatrixWorld();
  const to = camera.matrixWorld.clone().setPosition(0, 0, 0).invert();
  const held = box.clone().applyMatrix4(to);
  const deep = whole.clone().union(box).applyMatrix4(to);
  const middle = held.getCenter(new THREE.Vector3());
  const size = held.getSize(new THREE.Vector3());
  const half = [size.x * 0.502 + 0.02, size.y * 0.502 + 0.02];
  const back = deep.max.z + 1;
  const place = new THREE.Vector3(middle.x, middle.y, back).applyMatrix4(
    camera.matrixWorld.clone().setPosition(0, 0, 0),
  );
  camera.position.copy(place);
  [camera.left, camera.right, camera.bottom, camera.top] = [-half[0], half[0], -half[1], half[1]];
  camera.near = 0;
  camera.far = back - deep.min.z + BEYOND_M;
  camera.updateMatrixWorld();
  camera.updateProjectionMatrix();
  return camera;
}

const TO_UNIT = new THREE.Matrix4().set(
  0.5, 0, 0, 0.5, 0, 0.5, 0, 0.5, 0, 0, 0.5, 0.5, 0, 0, 0, 1,
);
const frameOf = (camera) =>
  TO_UNIT.clone().multiply(camera.projectionMatrix).multiply(camera.matrixWorldInverse);

// --- a house -----------------------------------------------------------------------------

let states = 0; // of all houses: each change of one makes another

class House {
  constructor(viewer, name) {
    this.name = name;
    this._viewer = viewer;
    this._group = new THREE.Group();
    this._parts = new Map(); // key -> {role, meshes}
    this._changed();
  }

  keys() {
    return [...this._parts.keys()];
  }

  bounds() {
    const box = this._box(false);
    return [box.min.toArray(), box.max.toArray()];
  }

  update({ removed = [], parts = [] }) {
    for (const key of [...removed, ...parts.map((part) => part.key)]) this._drop(key);
    for (const part of parts) {
      const geometry = new THREE.BufferGeometry();
      geometry.setAttribute("position", new THREE.BufferAttribute(part.positions, 3));
      geometry.setIndex(new THREE.BufferAttribute(part.indices, 1));
      if (part.normals) geometry.setAttribute("normal", new THREE.BufferAttribute(part.normals, 3));
      else geometry.computeVertexNormals();
      this._put(part.key, part.role, [meshOf(geometry, part.matrices)]);
    }
    this._changed();
  }

  _put(key, role, meshes) {
    this._parts.set(key, { role, meshes });
    for (const mesh of meshes) {
      const open = mesh.material?.side === THREE.DoubleSide; // a sheet, seen from both sides
      mesh.userData = { key, house: this.name, open };
      mesh.castsSky = castsSky(mesh, key);
      mesh.castsFar = castsFar(mesh, key);
      this._group.add(mesh);
      this._viewer._dress(mesh, role, key);
    }
  }

  _drop(key) {
    for (const mesh of this._parts.get(key)?.meshes ?? []) {
      this._group.remove(mesh);
      mesh.geometry.dispose();
      mesh.dispose?.(); // places of copies
    }
    this._parts.delete(key);
  }

  _changed() {
    this._state = ++states;
    this._boxes = {};
    this._skyKnown = 0;
    this._viewer._touch(this);
  }

  /** The box of all that stands there; without the setting unless asked, never of the ground. */
  _box(setting) {
    this._boxes[setting] ??= [...this._parts].reduce((box, [key, { meshes }]) => {
      if (key === "setting/ground" || (!setting && key.startsWith(SETTING))) return box;
      for (const mesh of meshes) {
        mesh.updateWorldMatrix(true, false);
        box.union(boxOf(mesh).applyMatrix4(mesh.matrixWorld));
      }
      return box;
    }, new THREE.Box3());
    return this._boxes[setting];
  }
}

function meshOf(geometry, matrices) {
  if (!matrices) return new THREE.Mesh(geometry);
  const mesh = new THREE.InstancedMesh(geometry, undefined, matrices.length / 16);
  mesh.instanceMatrix = new THREE.InstancedBufferAttribute(matrices, 16);
  return mesh;
}

function boxOf(mesh) {
  if (mesh.isInstancedMesh) {
    mesh.computeBoundingBox();
    return mesh.boundingBox.clone();
  }
  mesh.geometry.computeBoundingBox();
  return mesh.geometry.boundingBox.clone();
}

const isMany = (mesh) => mesh.isInstancedMesh && mesh.count > MANY;

function castsSky(mesh, key) {
  if (key.startsWith(FIGURE) || key === "setting/ground") return false;
  if (isMany(mesh)) return false;
  mesh.geometry.computeBoundingSphere();
  return mesh.geometry.boundingSphere.radius * mesh.scale.x > SKY_LEAST_M || mesh.isInstancedMesh;
}

function castsFar(mesh, key) {
  if (key.startsWith(SETTING)) return !key.startsWith(FIGURE);
  mesh.geometry.computeBoundingSphere();
  return !isMany(mesh) && mesh.geometry.boundingSphere.radius * mesh.scale.x > FAR_LEAST_M;
}

/** Whether no graphics card draws here; then less is asked for. */
function drawnBySoftware() {
  const gl = document.createElement("canvas").getContext("webgl2");
  const named = gl?.getExtension("WEBGL_debug_renderer_info");
  const words = named ? gl.getParameter(named.UNMASKED_RENDERER_WEBGL) : "";
  gl?.getExtension("WEBGL_lose_context")?.loseContext();
  return /swiftshader|llvmpipe|softpipe|basic render|software/i.test(words);
}

// --- the viewer --------------------------------------------------------------------------

class Viewer extends EventTarget {
  constructor(element, { finishes, views = {}, paper = "#ffffff" }) {
    super();
    this.element = element;
    this._finishes = finishes;
    this._views = { ...views };
    this._grade = drawnBySoftware() ? SOFTWARE : HARDWARE;
    this._sky = skyDirections(this._grade.skyRoot ** 2);
    this._renderer = new THREE.WebGLRenderer({
      antialias: this._grade.antialias,
      preserveDrawingBuffer: true,
    });
    this._renderer.outputColorSpace = THREE.LinearSRGBColorSpace; // the shader writes sRGB itself
    this._renderer.autoClear = false;
    this._paper = new THREE.Color().setStyle(paper, THREE.LinearSRGBColorSpace);
    this.canvas = this._renderer.domElement;
    Object.assign(this.canvas.style, { display: "block", width: "100%", height: "100%", touchAction: "none" });
    element.append(this.canvas);

    this.overlay = new THREE.Group();
    this._houses = new Map();
    this._shown = [];
    this._materials = new Map();
    this._marked = new Set();
    this._look = "clay";
    this._figure = true;
    this._sun = { direction: new THREE.Vector3(-0.5, -0.6, 0.6).normalize(), beam: 800, sky: 120 };
    this._maps = [];
    this._scene = new THREE.Scene();
    this._scene.matrixWorldAutoUpdate = true;
    this._groundLine = new THREE.Line(
      new THREE.BufferGeometry(),
      new THREE.LineBasicMaterial({ color: new THREE.Color(0.1, 0.1, 0.11) }),
    );
    this._groundLine.frustumCulled = false;
    this._shared = this._sharedUniforms();
    this._mask = this._material({ colour: [0, 0, 0] }, "", { MASK: "" });
    this._open = this._material({ colour: [0, 0, 0] }, "", { OPEN: "" });
    this._open.side = THREE.DoubleSide;
    this._opened = []; // by pane: what the map of openness was drawn of
    this._coarse = this._coarseSun = this._grade.first;
    this._frameMs = 0;

    this._cameras = {
      ortho: new THREE.OrthographicCamera(-10, 10, 10, -10, 0.1, 400),
      perspective: new THREE.PerspectiveCamera(35, 1, 0.1, 600),
    };
    for (const camera of Object.values(this._cameras)) camera.up.set(0, 0, 1);
    this._camera = this._cameras.perspective;
    this._controls = new OrbitControls(this._camera, this.canvas);
    this._controls.maxPolarAngle = Math.PI * 0.75; // up under a cornice, yet not under ground
    this._controls.minDistance = 1.0;
    this._controls.maxDistance = 200.0;
    this._controls.zoomToCursor = true;
    this._controls.addEventListener("change", () => {
      this._aboveGround();
      this._moved();
      this.dispatchEvent(new CustomEvent("viewed", { detail: null }));
    });
    this._pressed = null;
    this.canvas.addEventListener("pointerdown", (event) => (this._pressed = [event.clientX, event.clientY]));
    this.canvas.addEventListener("click", (event) => this._clicked(event));
    this._watch = new ResizeObserver(() => this._resized());
    this._watch.observe(element);
    this._resized();
  }

  // --- houses ---

  async load(bytes) {
    const file = await new GLTFLoader().parseAsync(bytes, "");
    return file.scenes.map((scene, i) => {
      const root = scene.children[0];
      const name = root?.userData.name ?? scene.userData.name ?? `house ${i + 1}`;
      this.forget(name);
      const house = this.house(name);
      root.rotation.set(0, 0, 0); // the file's Y is up; ours is Z
      scene.updateMatrixWorld(true);
      const found = new Map();
      for (const part of root.children) {
        let key = part.userData.part ?? part.name;
        for (let n = 2; found.has(key); n++) key = `${part.userData.part} #${n}`;
        const meshes = [];
        part.traverse((each) => each.isMesh && meshes.push(each));
        found.set(key, { role: part.userData.role ?? "", meshes });
      }
      for (const [key, { role, meshes }] of found) {
        for (const mesh of meshes) {
          mesh.matrix.copy(mesh.matrixWorld).decompose(mesh.position, mesh.quaternion, mesh.scale);
        }
        house._put(key, role, meshes);
      }
      house._changed();
      return name;
    });
  }

  house(name) {
    if (!this._houses.has(name)) this._houses.set(name, new House(this, name));
    return this._houses.get(name);
  }

  forget(name) {
    const house = this._houses.get(name);
    if (!house) return;
    for (const key of house.keys()) house._drop(key);
    house._sky?.dispose();
    this._houses.delete(name);
    this._shown = this._shown.filter((shown) => shown !== name);
  }

  show(names) {
    const before = this._shown.length;
    this._shown = names.filter((name) => this._houses.has(name)).slice(0, 4);
    for (const house of this._houses.values()) {
      const shown = this._shown.includes(house.name);
      if (shown) this._scene.add(house._group);
      else this._scene.remove(house._group);
    }
    if (before !== this._shown.length) this._frame();
    this._forgetMaps();
    this.redraw();
  }

  // --- light and look ---

  setSun(direction, { beam = 800, sky = 120 } = {}) {
    const up = direction && direction[2] > 0;
    this._sun = {
      direction: up ? new THREE.Vector3(...direction).normalize() : new THREE.Vector3(0, 0, -1),
      beam: up ? beam : 0,
      sky: Math.max(sky, 1),
    };
    this._forgetMaps();
    this._moved(true);
  }

  setLook(look) {
    this._look = look;
    for (const house of this._houses.values()) this._dressAll(house);
    this.redraw();
  }

  setFigure(shown) {
    this._figure = shown;
    for (const house of this._houses.values()) {
      for (const [key, { meshes }] of house._parts) {
        if (key.startsWith(FIGURE)) for (const mesh of meshes) mesh.visible = shown;
      }
    }
    this._forgetMaps();
    this.redraw();
  }

  mark(keys) {
    this._marked = new Set(keys);
    for (const house of this._houses.values()) this._dressAll(house);
    this.redraw();
  }

  // --- the camera ---

  addView(name, view) {
    this._views[name] = view;
  }

  setView(name) {
    const view = this._views[name];
    if (!view) return;
    this._view = view;
    this._camera = this._cameras[view.kind];
    this._controls.object = this._camera;
    this._camera.position.set(...view.position);
    this._camera.zoom = 1;
    this._controls.target.set(...view.target);
    this._frame();
    this._controls.update();
    this.dispatchEvent(new CustomEvent("viewed", { detail: name }));
    this.redraw();
  }

  pose() {
    const camera = this._camera;
    const ortho = camera.isOrthographicCamera;
    return {
      ...this._view,
      position: camera.position.toArray(),
      target: this._controls.target.toArray(),
      across: ortho ? this._view.across / camera.zoom : this._view.across,
      hides: [],
    };
  }

  turned() {
    const { position, target } = this._view;
    const was = new THREE.Vector3(...target).sub(new THREE.Vector3(...position));
    const now = this._controls.target.clone().sub(this._camera.position);
    return was.angleTo(now) > 0.01;
  }

  setZoom(enabled) {
    this._controls.enableZoom = enabled;
  }

  turn(right, up) {
    const offset = this._camera.position.clone().sub(this._controls.target);
    const far = offset.length();
    const across = Math.atan2(offset.y, offset.x) + right;
    const most = this._controls.maxPolarAngle;
    const down = Math.min(Math.max(Math.acos(offset.z / far) - up, 0.05), most);
    offset.set(Math.sin(down) * Math.cos(across), Math.sin(down) * Math.sin(across), Math.cos(down));
    this._camera.position.copy(this._controls.target).addScaledVector(offset, far);
    this._controls.update();
    this._moved();
  }

  near(factor) {
    if (this._camera.isOrthographicCamera) {
      this._camera.zoom *= factor;
      this._camera.updateProjectionMatrix();
    } else {
      const offset = this._camera.position.clone().sub(this._controls.target);
      this._camera.position.copy(this._controls.target).addScaledVector(offset, 1 / factor);
    }
    this._controls.update();
    this._moved();
  }

  project(point, pane = 0) {
    const rect = this._panes()[pane];
    if (!rect) return null;
    this._camera.updateMatrixWorld();
    const at = new THREE.Vector3(...point).project(this._camera);
    if (at.z > 1) return null;
    return [rect.x + (0.5 + at.x / 2) * rect.width, rect.y + (0.5 - at.y / 2) * rect.height];
  }

  /** A pane's place: [x, y, width, height], CSS pixels from the element's upper left. */
  pane(i) {
    const rect = this._panes()[i];
    return rect && [rect.x, rect.y, rect.width, rect.height];
  }

  unproject(clientX, clientY, y) {
    const found = this._ray(clientX, clientY);
    if (!found) return null;
    const plane = new THREE.Plane(new THREE.Vector3(0, 1, 0), -y);
    const at = found.caster.ray.intersectPlane(plane, new THREE.Vector3());
    return at && at.toArray();
  }

  pick(clientX, clientY) {
    const found = this._ray(clientX, clientY);
    if (!found) return null;
    const hits = found.caster.intersectObject(this._houses.get(found.name)._group, true);
    const hit = hits.find((each) => each.object.visible);
    if (!hit) return null;
    return {
      house: found.name,
      key: hit.object.userData.key,
      copy: hit.instanceId ?? 0,
      point: hit.point.toArray(),
    };
  }

  setBackdrop(given) {
    if (this._backdrop) {
      this._scene.remove(this._backdrop);
      this._backdrop.material.map?.dispose();
      this._backdrop.geometry.dispose();
      this._backdrop = null;
    }
    if (given) {
      const texture = new THREE.TextureLoader().load(given.image, () => this.redraw());
      const material = new THREE.MeshBasicMaterial({
        map: texture,
        transparent: true,
        opacity: given.opacity ?? 0.5,
        side: THREE.DoubleSide,
        depthTest: !given.over,
        depthWrite: false,
      });
      const plane = new THREE.PlaneGeometry(given.right - given.left, given.top - given.bottom);
      this._backdrop = new THREE.Mesh(plane, material);
      this._backdrop.rotation.x = Math.PI / 2;
      this._backdrop.position.set(
        (given.left + given.right) / 2, given.y ?? 0, (given.bottom + given.top) / 2,
      );
      this._backdrop.renderOrder = given.over ? 2 : -1;
      this._scene.add(this._backdrop);
    }
    this.redraw();
  }

  // --- drawing ---

  redraw() {
    if (this._asked || this._gone) return;
    if (this._busy) {
      this._late = true;
      return;
    }
    this._asked = requestAnimationFrame(() => {
      this._asked = 0;
      this._draw();
    });
  }

  async settled() {
    while (this._asked || this._busy || this._late || this._resting || this._coarse > 1 || this._skyWaits()) {
      await new Promise((done) => {
        for (const kind of ["drawn", "ready"]) this.addEventListener(kind, done, { once: true });
      });
    }
  }

  held() {
    return { ...this._renderer.info.memory };
  }

  dispose() {
    this._gone = true;
    cancelAnimationFrame(this._asked);
    clearTimeout(this._resting);
    this._watch.disconnect();
    this._controls.dispose();
    for (const name of [...this._houses.keys()]) this.forget(name);
    for (const map of this._maps) for (const target of Object.values(map.targets)) target.dispose();
    this._inkMap?.dispose();
    this._openMap?.dispose();
    this._renderer.dispose();
    this.canvas.remove();
  }

  sunMask({ left, right, bottom, top, width, height }, name = this._shown[0]) {
    const pane = this._shown.indexOf(name);
    if (pane < 0) return null;
    const target = new THREE.WebGLRenderTarget(width, height);
    const camera = new THREE.OrthographicCamera(left, right, top, bottom, 0, 400);
    camera.up.set(0, 0, 1);
    camera.position.set(0, -60, 0);
    camera.lookAt(0, 0, 0);
    const figure = this._figure;
    this.setFigure(false);
    this._only(name);
    this._lightPane(pane, this._houses.get(name), true);
    this._scene.overrideMaterial = this._mask;
    this._renderer.setRenderTarget(target);
    this._renderer.setClearColor(0, 0);
    this._renderer.clear();
    this._renderer.render(this._scene, camera);
    const raw = new Uint8Array(4 * width * height);
    this._renderer.readRenderTargetPixels(target, 0, 0, width, height, raw);
    this._scene.overrideMaterial = null;
    this._renderer.setRenderTarget(null);
    target.dispose();
    this.setFigure(figure);
    const rows = new Uint8Array(width * height);
    for (let row = 0; row < height; row++) {
      for (let column = 0; column < width; column++) {
        const from = 4 * ((height - 1 - row) * width + column);
        rows[row * width + column] = raw[from + 3] ? (raw[from] > 200 ? 2 : 1) : 0;
      }
    }
    return rows;
  }

  _draw() {
    if (!this._shown.length || !this._size[0]) return;
    const began = performance.now();
    const [width, height] = this._size;
    const ratio = Math.min(window.devicePixelRatio || 1, 2) / this._coarse;
    if (this._renderer.getPixelRatio() !== ratio) this._renderer.setPixelRatio(ratio);
    this._renderer.setRenderTarget(null);
    this._renderer.setClearColor(this._paper, 1);
    this._renderer.setScissorTest(false);
    this._renderer.clear();
    this._renderer.setScissorTest(true);
    this._panes().forEach((rect, pane) => {
      const house = this._houses.get(this._shown[pane]);
      this._only(house.name);
      this._lightPane(pane, house);
      const from = height - rect.y - rect.height;
      this._renderer.setRenderTarget(null);
      this._renderer.setViewport(rect.x, from, rect.width, rect.height);
      this._renderer.setScissor(rect.x, from, rect.width, rect.height);
      this._renderer.clear();
      this._camera.updateMatrixWorld();
      this._setGroundLine(house);
      const left = this._leftOut(house);
      this._shared.hasOpen.value = ratio === this._hasteRatio() && this._opened[pane] === this._openOf(house, rect) ? 1 : 0;
      if (this._look === "ink") this._ink(rect, from, ratio, house);
      this._scene.add(this.overlay, this._groundLine);
      this._renderer.render(this._scene, this._camera);
      house._group.visible = true;
      this._scene.remove(this.overlay, this._groundLine);
      for (const mesh of left) mesh.visible = true;
    });
    this._whenDone(() => {
      this._frameMs = 0.5 * this._frameMs + 0.5 * (performance.now() - began);
      this.dispatchEvent(new CustomEvent("drawn"));
      if (this._asked || this._resting) return;
      if (this._coarse > 1) this._moved();
      else if (this._skyWaits()) this._moreSky();
      else this._readyHaste();
    });
  }

  /** Hide what the view leaves out; its meshes, to be shown again. */
  _leftOut(house) {
    const left = (this._view?.hides ?? []).flatMap((key) => house._parts.get(key)?.meshes ?? []);
    for (const mesh of left) mesh.visible = false;
    return left;
  }

  _hasteRatio() {
    return Math.min(window.devicePixelRatio || 1, 2) / 2;
  }

  /** What a pane's openness to the sky hangs on: all but the sun. */
  _openOf(house, rect) {
    const { projectionMatrix, matrixWorld } = this._camera;
    const seen = [...projectionMatrix.elements, ...matrixWorld.elements, ...Object.values(rect), ...this._size];
    return [house._state, house._skyKnown, this._figure, this._hasteRatio(), ...seen].join(" ");
  }

  /** At rest, on a slow machine: how open each pixel is, so that the sun then moves without it. */
  _readyHaste() {
    if (this._frameMs < SLOW_MS || this._look === "ink") return;
    const panes = this._panes();
    const known = this._shown.map((name, i) => this._openOf(this._houses.get(name), panes[i]));
    if (known.every((each, i) => each === this._opened[i])) return;
    const [width, height] = this._size;
    const ratio = this._hasteRatio();
    const [wide, tall] = [Math.floor(width * ratio), Math.floor(height * ratio)];
    if (this._openMap?.width !== wide || this._openMap?.height !== tall) {
      this._openMap?.dispose();
      const near = { minFilter: THREE.NearestFilter, magFilter: THREE.NearestFilter };
      this._openMap = new THREE.WebGLRenderTarget(wide, tall, near);
      this._shared.openMap.value = this._openMap.texture;
    }
    const backdrop = this._backdrop?.visible;
    if (this._backdrop) this._backdrop.visible = false;
    this._openMap.scissorTest = true;
    panes.forEach((rect, pane) => {
      const house = this._houses.get(this._shown[pane]);
      this._only(house.name);
      this._setSky(house);
      const from = height - rect.y - rect.height;
      for (const box of [this._openMap.viewport, this._openMap.scissor]) {
        box.set(rect.x, from, rect.width, rect.height).multiplyScalar(ratio).round();
      }
      const left = this._leftOut(house);
      this._renderer.setRenderTarget(this._openMap);
      this._renderer.setClearColor(0, 1);
      this._renderer.clear();
      this._scene.overrideMaterial = this._open;
      this._renderer.render(this._scene, this._camera);
      this._scene.overrideMaterial = null;
      for (const mesh of left) mesh.visible = true;
      house._group.visible = true;
    });
    this._renderer.setRenderTarget(null);
    if (this._backdrop) this._backdrop.visible = backdrop;
    this._opened = known;
    this._whenDone(() => this.dispatchEvent(new CustomEvent("ready")));
  }

  /** A pane in ink: faces and depths once, then lines from them; what lies over it comes after. */
  _ink(rect, from, ratio, house) {
    const [wide, tall] = [Math.max(1, Math.round(rect.width * ratio)), Math.max(1, Math.round(rect.height * ratio))];
    const renderer = this._renderer;
    if (this._inkMap?.width !== wide || this._inkMap?.height !== tall) {
      this._inkMap?.depthTexture.dispose();
      this._inkMap?.dispose();
      const depthTexture = new THREE.DepthTexture(wide, tall, THREE.UnsignedIntType);
      this._inkMap = new THREE.WebGLRenderTarget(wide, tall, { depthTexture, minFilter: THREE.NearestFilter, magFilter: THREE.NearestFilter });
      this._inkQuad = new THREE.Mesh(new THREE.PlaneGeometry(2, 2), INKED);
      this._inkQuad.frustumCulled = false;
    }
    const backdrop = this._backdrop?.visible;
    if (this._backdrop) this._backdrop.visible = false;
    renderer.setRenderTarget(this._inkMap);
    renderer.setScissorTest(false);
    renderer.setClearColor(0xffffff, 1);
    renderer.clear();
    renderer.render(this._scene, this._camera);
    if (this._backdrop) this._backdrop.visible = backdrop;
    renderer.setRenderTarget(null);
    renderer.setScissorTest(true);
    renderer.setViewport(rect.x, from, rect.width, rect.height);
    renderer.setScissor(rect.x, from, rect.width, rect.height);
    const u = INKED.uniforms;
    u.faces.value = this._inkMap.texture;
    u.depths.value = this._inkMap.depthTexture;
    u.pixel.value.set(1 / wide, 1 / tall);
    u.paper.value = this._paper;
    u.range.value.set(this._camera.near, this._camera.far);
    u.flat_.value = this._camera.isOrthographicCamera ? 1 : 0;
    renderer.render(this._inkQuad, this._camera);
    renderer.setClearColor(this._paper, 1);
    house._group.visible = false;
  }

  /** Call back when the card has done what it was given; meanwhile nothing more is drawn. */
  _whenDone(then) {
    const gl = this._renderer.getContext();
    const fence = gl.fenceSync(gl.SYNC_GPU_COMMANDS_COMPLETE, 0);
    gl.flush();
    this._busy = true;
    const look = () => {
      if (this._gone) return;
      if (gl.getSyncParameter(fence, gl.SYNC_STATUS) !== gl.SIGNALED && !gl.isContextLost()) {
        setTimeout(look, 4);
        return;
      }
      gl.deleteSync(fence);
      this._busy = false;
      then();
      if (this._late) {
        this._late = false;
        this.redraw();
      }
    };
    setTimeout(look, 0);
  }

  _only(name) {
    for (const shown of this._shown) this._houses.get(shown)._group.visible = shown === name;
  }

  /** Something moves under the hand: coarser where the machine is slow, fine again at rest. */
  _moved(sunToo = false) {
    if (this._frameMs > SLOW_MS) {
      this._coarse = 2;
      if (sunToo) this._coarseSun = this._grade.haste;
    }
    clearTimeout(this._resting);
    this._resting = setTimeout(() => {
      this._resting = 0;
      if (this._coarseSun > 1) this._forgetMaps();
      this._coarse = this._coarseSun = 1;
      this.redraw();
    }, REST_MS);
    this.redraw();
  }

  // --- shadow ---

  _forgetMaps() {
    for (const map of this._maps) map.house = null;
  }

  /** Set the sun's and the sky's maps for a pane's house, drawing what is out of date. */
  _lightPane(pane, house, fine = false) {
    const size = Math.min(
      SUN_MAP[this._shown.length] / (fine ? 1 : this._coarseSun),
      this._renderer.capabilities.maxTextureSize,
    );
    const map = (this._maps[pane] ??= { house: null, targets: {} });
    if (map.house !== house || map.size !== size) this._castSun(map, house, size, fine);
    const u = this._shared;
    u.sunMap.value = map.sun.depthTexture;
    u.sunFrame.value = map.frame;
    u.sunTexel.value.copy(map.texel);
    u.hasFar.value = map.far ? 1 : 0;
    u.farMap.value = (map.far ? map.around : map.sun).depthTexture;
    u.farFrame.value = map.far ?? map.frame;
    u.farTexel.value = map.farTexel ?? 0;
    this._setLight();
    this._setSky(house);
  }

  _castSun(map, house, size, fine) {
    const box = house._box(false);
    const whole = house._box(true);
    // one for haste and one for rest: to make a large one anew takes longer than to draw it
    map.sun = map.targets[size] ??= depthMap(this._renderer, size);
    const camera = castingCamera(this._sun.direction, box, whole);
    const hasty = this._coarseSun > 1 && !fine;
    this._cast(map.sun, camera, hasty ? (mesh) => !isMany(mesh) : () => true);
    Object.assign(map, { house, size, frame: frameOf(camera) });
    const across = Math.max(camera.right - camera.left, camera.top - camera.bottom);
    map.texel = new THREE.Vector2(across / size, 1 / size);
    map.far = null;
    const grown = box.clone().expandByScalar(0.5);
    if (!grown.containsBox(whole)) {
      const wideSize = FAR_MAP / (fine ? 1 : this._coarseSun);
      map.around = map.targets[`around ${wideSize}`] ??= depthMap(this._renderer, wideSize);
      const wide = castingCamera(this._sun.direction, whole, whole);
      this._cast(map.around, wide, hasty ? (mesh) => mesh.castsFar : () => true);
      map.far = frameOf(wide);
      map.farTexel = Math.max(wide.right - wide.left, wide.top - wide.bottom) / wideSize;
    }
  }

  _cast(target, camera, casts, tile = null) {
    const hidden = [];
    this._scene.traverse((each) => {
      const key = each.userData.key;
      if (each.isMesh && each.visible && (!key || key === "setting/ground" || !casts(each))) {
        each.visible = false;
        hidden.push(each);
      }
    });
    const renderer = this._renderer;
    this._scene.overrideMaterial = CASTING;
    renderer.setRenderTarget(target);
    const [x, y, w] = tile ?? [0, 0, target.width];
    target.viewport.set(x, y, w, w);
    target.scissor.set(x, y, w, w);
    target.scissorTest = true;
    renderer.setRenderTarget(target);
    renderer.clear(true, true, false);
    renderer.render(this._scene, camera);
    renderer.setRenderTarget(null);
    this._scene.overrideMaterial = null;
    for (const each of hidden) each.visible = true;
  }

  _skyWaits() {
    if (this._look === "ink") return false; // a wash knows only sun and shade
    return this._shown.some((name) => this._houses.get(name)._skyKnown < this._sky.length);
  }

  /** Cast the next few directions of the sky, so few that the hand is not held up. */
  _moreSky() {
    const name = this._shown.find((shown) => this._houses.get(shown)._skyKnown < this._sky.length);
    const house = this._houses.get(name);
    if (!house?._sky) return;
    this._only(name);
    const end = Math.min(house._skyKnown + (this._frameMs > SLOW_MS ? 2 : 8), this._sky.length);
    for (let i = house._skyKnown; i < end; i++) {
      const root = this._grade.skyRoot;
      const tile = [(i % root) * SKY_TILE, Math.floor(i / root) * SKY_TILE, SKY_TILE];
      this._cast(house._sky, house._skyCameras[i], (mesh) => mesh.castsSky, tile);
    }
    house._skyKnown = end;
    this._whenDone(() => {
      if (end === this._sky.length) this.redraw();
      else if (!this._asked && !this._resting && !this._late) this._moreSky();
    });
  }

  _setSky(house) {
    house._sky ??= depthMap(this._renderer, this._grade.skyRoot * SKY_TILE);
    if (!house._skyKnown || !house._skyCameras) {
      const round = house._box(false).getBoundingSphere(new THREE.Sphere());
      house._skyRound = new THREE.Vector4(...round.center, round.radius);
      house._skyCameras = this._sky.map((to) => {
        const camera = new THREE.OrthographicCamera();
        const r = round.radius;
        [camera.left, camera.right, camera.bottom, camera.top] = [-r, r, -r, r];
        [camera.near, camera.far] = [0, 2 * r];
        camera.up.set(0, 0, 1);
        camera.position.copy(round.center).addScaledVector(to, r);
        camera.lookAt(round.center);
        camera.updateMatrixWorld();
        camera.updateProjectionMatrix();
        return camera;
      });
    }
    const u = this._shared;
    u.skyMap.value = house._sky.depthTexture;
    u.skyKnown.value = house._skyKnown;
    u.skyRound.value = house._skyRound;
    house._skyCameras.forEach((camera, i) => {
      const e = camera.matrixWorld.elements;
      u.skyRight.value[i].set(e[0], e[1], e[2]);
      u.skyUp.value[i].set(e[4], e[5], e[6]);
      u.skyTo.value[i].copy(this._sky[i]);
    });
  }

  // --- materials ---

  _sharedUniforms() {
    const many = () => this._sky.map(() => new THREE.Vector3());
    const values = {
      toSun: new THREE.Vector3(), sunLight: new THREE.Color(), skyLight: new THREE.Color(),
      paper: this._paper, bounce: 0.32, among: 0.08, exposure: 1,
      sunFrame: new THREE.Matrix4(), farFrame: new THREE.Matrix4(),
      sunMap: null, farMap: null, skyMap: null, sunTexel: new THREE.Vector2(), farTexel: 0, hasFar: 0,
      skyTo: many(), skyRight: many(), skyUp: many(), skyRound: new THREE.Vector4(), skyKnown: 0,
      openMap: null, hasOpen: 0,
    };
    return Object.fromEntries(Object.entries(values).map(([key, value]) => [key, { value }]));
  }

  /** The sun's colour by its height and the exposure by the light there is: as a camera would. */
  _setLight() {
    const { direction, beam, sky } = this._sun;
    const u = this._shared;
    const high = Math.max(direction.z, 0);
    const low = Math.exp(-7 * high);
    u.toSun.value.copy(direction);
    u.sunLight.value.setRGB(1, 0.95 - 0.25 * low, 0.87 - 0.45 * low).multiplyScalar(beam);
    u.skyLight.value.setRGB(0.84, 0.94, 1.12).multiplyScalar(sky * 2.1);
    u.exposure.value = 1.42 / (0.72 * beam + 1.6 * sky + 25);
  }

  _finish(role) {
    const table = this._finishes[this._look] ?? this._finishes.clay;
    const [own, painted] = role.split("/#"); // what is painted ends in its colour, as sRGB
    const finish = table[own] ?? table[own.split("/")[0]] ?? table[""];
    if (!painted || this._look !== "materials") return finish;
    const { r, g, b } = new THREE.Color(`#${painted}`);
    return { ...finish, colour: [r, g, b] };
  }

  _material(finish, role, defines = {}, many = false) {
    const own = {
      many: many ? 1 : 0,
      colour: new THREE.Color(...finish.colour),
      tint: new THREE.Color(0.35, 0.1, 0.04),
      tinted: 0,
      uneven: 0.5 * (finish.uneven ?? 0),
      glass: role.split("/")[0] === "glass" ? 1 : 0,
      ground: ["grass", "ground", "walk"].includes(role) ? 1 : 0,
    };
    const uniforms = { ...this._shared };
    for (const [key, value] of Object.entries(own)) uniforms[key] = { value };
    const graded = { SKY_ROOT: this._grade.skyRoot, TAPS: this._grade.taps, ...defines };
    return new THREE.ShaderMaterial({
      uniforms, defines: graded, vertexShader: VERTEX, fragmentShader: FRAGMENT,
    });
  }

  _dress(mesh, role, key) {
    const marked = this._marked.has(key);
    const many = isMany(mesh);
    const known = `${this._look}|${role}|${marked}|${mesh.userData.open}|${many}`;
    if (!this._materials.has(known)) {
      const material = this._material(this._finish(role), role, this._look === "ink" ? { INK: "" } : {}, many);
      material.side = mesh.userData.open ? THREE.DoubleSide : THREE.FrontSide;
      if (marked) material.uniforms.tinted.value = 0.55;
      this._materials.set(known, material);
    }
    mesh.material = this._materials.get(known);
    if (key.startsWith(FIGURE)) mesh.visible = this._figure;
  }

  _dressAll(house) {
    for (const [key, { role, meshes }] of house._parts) {
      for (const mesh of meshes) this._dress(mesh, role, key);
    }
  }

  // --- panes ---

  _panes() {
    const [width, height] = this._size;
    const count = this._shown.length;
    const upright = height > width;
    const columns = count < 2 ? 1 : count === 2 && upright ? 1 : 2;
    const rows = Math.ceil(count / columns);
    const gap = count > 1 ? 2 : 0;
    const across = (width - gap * (columns - 1)) / columns;
    const down = (height - gap * (rows - 1)) / rows;
    return this._shown.map((_, i) => ({
      x: (i % columns) * (across + gap),
      y: Math.floor(i / columns) * (down + gap),
      width: across,
      height: down,
    }));
  }

  _ray(clientX, clientY) {
    const at = this.canvas.getBoundingClientRect();
    const [x, y] = [clientX - at.left, clientY - at.top];
    const pane = this._panes().findIndex(
      (r) => x >= r.x && x < r.x + r.width && y >= r.y && y < r.y + r.height,
    );
    if (pane < 0) return null;
    const r = this._panes()[pane];
    const pointer = new THREE.Vector2(2 * ((x - r.x) / r.width) - 1, 1 - 2 * ((y - r.y) / r.height));
    const caster = new THREE.Raycaster();
    this._camera.updateMatrixWorld();
    caster.setFromCamera(pointer, this._camera);
    return { caster, name: this._shown[pane] };
  }

  _clicked(event) {
    const [x, y] = this._pressed ?? [event.clientX, event.clientY];
    if (Math.hypot(event.clientX - x, event.clientY - y) > 4) return; // a turn, not a click
    const detail = this.pick(event.clientX, event.clientY);
    if (detail) this.dispatchEvent(new CustomEvent("picked", { detail }));
  }

  _aboveGround() {
    const camera = this._camera;
    if (camera.isOrthographicCamera || camera.position.z >= LEAST_EYE_M) return;
    camera.position.z = LEAST_EYE_M;
    camera.lookAt(this._controls.target);
  }

  /** The ground's edge, where it is level and seen level. */
  _setGroundLine(house) {
    const ground = house._parts.get("setting/ground")?.meshes[0];
    const box = ground && boxOf(ground);
    const way = this._camera.getWorldDirection(new THREE.Vector3());
    const level = this._camera.isOrthographicCamera && Math.abs(way.z) < 1e-3;
    this._groundLine.visible = Boolean(level && box && box.max.z - box.min.z < 0.02);
    if (!this._groundLine.visible) return;
    const held = house._box(false);
    const half = 0.62 * held.getSize(new THREE.Vector3()).length();
    const middle = held.getCenter(new THREE.Vector3());
    const right = new THREE.Vector3(way.y, -way.x, 0).normalize().multiplyScalar(half);
    const near = middle.clone().addScaledVector(way, -20).setZ(box.max.z);
    this._groundLine.geometry.setFromPoints([near.clone().sub(right), near.add(right)]);
  }

  /** Fit the camera's frame to a pane: what a view holds across it holds at any shape of pane. */
  _frame() {
    const rect = this._panes()[0];
    const view = this._view;
    if (!rect || !view || !rect.height) return;
    const aspect = rect.width / rect.height;
    const made = view.aspect ?? 1.6;
    if (view.kind === "ortho") {
      const half = (aspect < made ? view.across : (view.across / made) * aspect) / 2;
      Object.assign(this._camera, { left: -half, right: half, top: half / aspect, bottom: -half / aspect });
    } else {
      const flat = Math.tan(view.across / 2);
      const upright = aspect < made ? flat / aspect : flat / made;
      this._camera.fov = THREE.MathUtils.radToDeg(2 * Math.atan(upright));
      this._camera.aspect = aspect;
      const [right, up] = view.shift ?? [0, 0];
      const perPixel = rect.height / (2 * upright);
      const [x, y] = [right * perPixel, -up * perPixel];
      this._camera.setViewOffset(rect.width, rect.height, x, y, rect.width, rect.height);
    }
    this._camera.updateProjectionMatrix();
  }

  _resized() {
    const { clientWidth, clientHeight } = this.element;
    this._size = [clientWidth, clientHeight];
    if (!clientWidth || !clientHeight) return;
    this._renderer.setSize(clientWidth, clientHeight, false);
    this._frame();
    this.redraw();
  }

  _touch() {
    this._forgetMaps();
    this._moved(true);
  }
}

export function createViewer(element, options) {
  return new Viewer(element, options);
}
