// The lines of the path. An instance is one way from a vertex to the next, drawn as a rectangle of the line's width, so
// that lines can be thick and dashed without one more number a vertex: dashes count screen pixels from the way's start.
import { PathStyle, STYLE_BITS } from '../../server/src/core/geometry/packedLayout.ts';

const STYLE_COUNT = Object.keys(PathStyle).length;

/** `corner` is (0 start, 1 end; −1 or +1 across), `start` and `end` the way's ends, `code` line and style of its end. */
export const vertexShader = `
precision highp float;
precision highp int;
uniform mat4 modelViewMatrix;
uniform mat4 projectionMatrix;
uniform vec2 viewport;
uniform float pixelRatio;
uniform float widths[${STYLE_COUNT}];
uniform int litFirst;
uniform int litLast;
uniform int isGhost;
in vec2 corner;
in vec3 start;
in vec3 end;
in uint code;
flat out int style;
flat out int isLit;
flat out int isHole;
flat out float halfWidth;
flat out float wayLength;
out vec2 place;

void main() {
  style = int(code & ${(1 << STYLE_BITS) - 1}u);
  int line = int(code) >> ${STYLE_BITS};
  isLit = line >= litFirst && line <= litLast ? 1 : 0;
  vec4 from = projectionMatrix * modelViewMatrix * vec4(start, 1.0);
  vec4 to = projectionMatrix * modelViewMatrix * vec4(end, 1.0);
  vec2 fromPixel = from.xy * viewport * 0.5;
  vec2 toPixel = to.xy * viewport * 0.5;
  vec2 way = toPixel - fromPixel;
  wayLength = length(way);
  vec2 along = wayLength > 0.001 ? way / wayLength : vec2(1.0, 0.0);
  halfWidth = 0.5 * pixelRatio * (isGhost == 1 ? 5.0 : widths[style] + (isLit == 1 ? 3.0 : 0.0));
  // Seen along its way a plunge is a hole: a dot that is found among the lines.
  isHole = style == ${PathStyle.plunge} && wayLength <= 0.001 ? 1 : 0;
  if (isHole == 1) halfWidth = pixelRatio * (isLit == 1 ? 5.5 : 4.0);
  float cap = style == ${PathStyle.rapid} ? 0.0 : halfWidth;
  place = vec2(corner.x < 0.5 ? -cap : wayLength + cap, corner.y * halfWidth);
  vec2 pixel = (corner.x < 0.5 ? fromPixel - along * cap : toPixel + along * cap) + vec2(-along.y, along.x) * place.y;
  float depth = mix(from.z, to.z, corner.x);
  // The lit block lies before everything else but a ghost.
  float front = isGhost == 1 ? depth * 0.005 - 0.99 : isLit == 1 ? depth * 0.01 - 0.98 : depth;
  gl_Position = vec4(pixel / (viewport * 0.5), front, 1.0);
  if (style == ${PathStyle.none}) gl_Position = vec4(2.0, 2.0, 2.0, 1.0);
}`;

/** Rapid: long dashes. Plunge: short dashes. Helix: a double line. Cut: a full line. Ghost: a row of thick dots. */
export const fragmentShader = `
precision highp float;
precision highp int;
uniform vec3 colours[${STYLE_COUNT}];
uniform vec3 litColour;
uniform vec3 ghostColour;
uniform int isGhost;
uniform float pixelRatio;
flat in int style;
flat in int isLit;
flat in int isHole;
flat in float halfWidth;
flat in float wayLength;
in vec2 place;
out vec4 colour;

void main() {
  float along = place.x / pixelRatio;
  if (isGhost == 1) {
    // Dots count from the start of each way; ways shorter than a dot are drawn whole.
    if (wayLength > 9.0 * pixelRatio && mod(along, 9.0) > 5.0) discard;
    colour = vec4(ghostColour, 1.0);
    return;
  }
  if (isHole == 1 && length(place) > halfWidth) discard;
  if (style == ${PathStyle.rapid} && mod(along, 13.0) > 8.0) discard;
  if (style == ${PathStyle.plunge} && wayLength > 12.0 * pixelRatio && mod(along, 6.0) > 3.5) discard;
  if (style == ${PathStyle.helix} && abs(place.y) < 0.3 * halfWidth) discard;
  vec3 plain = colours[0];
  for (int i = 1; i < ${STYLE_COUNT}; i++) if (i == style) plain = colours[i];
  colour = vec4(isLit == 1 ? litColour : plain, 1.0);
}`;
