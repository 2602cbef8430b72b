// The lines of the path one pixel wide: a strip from vertex to vertex, many times quicker than rectangles where there is
// no graphics card. What is told of a way comes from the vertex that it leads to, the last of the line (OpenGL ES 3.0.6,
// section 2.16 "Flatshading": the last vertex provokes).
import { PathStyle, STYLE_BITS, STYLE_MASK } from '../../server/src/core/geometry/packedLayout.ts';
import { ColourSource, STYLE_COUNT } from './shaders.ts';

/**
 * `position` and `code` as in the packed path. Attributes that a strip has not got are 0: `row` of the way, `hidden` 1 where it
 * is left out, `seconds` from the piece's start.
 */
export const stripVertexShader = `
precision highp float;
precision highp int;
uniform mat4 modelMatrix;
uniform mat4 modelViewMatrix;
uniform mat4 projectionMatrix;
uniform vec2 viewport;
uniform int shownStyles;
uniform int litFirst;
uniform int litLast;
uniform int goneFirst;
uniform int goneLast;
uniform int colourSource;
uniform vec2 range;
uniform float startSeconds;
uniform highp sampler2D rowColours;
uniform highp sampler2D ramp;
uniform vec3 colours[${STYLE_COUNT}];
uniform vec3 litColour;
uniform vec3 neutralColour;
uniform int areRapidsColoured;
uniform float aheadStrength;
uniform int ranWays;
uniform float ranPart;
in vec3 position;
in uint code;
in float row;
in float hidden;
in float seconds;
flat out int style;
flat out vec4 plain;
flat out vec2 wayEnd;

/** How far an amount is between the ends of the scale, as a colour. */
vec3 scaled(float amount) {
  float part = range.y > range.x ? (amount - range.x) / (range.y - range.x) : 1.0;
  return texture(ramp, vec2(clamp(part, 0.002, 0.998), 0.5)).rgb;
}

vec3 ownColour() {
  if (colourSource == ${ColourSource.row}) {
    ivec2 size = textureSize(rowColours, 0);
    vec4 found = texelFetch(rowColours, ivec2(int(row) % size.x, int(row) / size.x), 0);
    bool isKnown = found.a > 0.5 && (areRapidsColoured == 1 || style != ${PathStyle.rapid});
    return isKnown ? found.rgb : neutralColour;
  }
  if (colourSource == ${ColourSource.depth}) return scaled(position.z + modelMatrix[3].z);
  if (colourSource == ${ColourSource.time}) return scaled(startSeconds + seconds);
  return colours[style];
}

void main() {
  style = int(code & ${STYLE_MASK}u);
  int line = int(code) >> ${STYLE_BITS};
  bool isLit = line >= litFirst && line <= litLast;
  gl_Position = projectionMatrix * modelViewMatrix * vec4(position, 1.0);
  // Dashes count from the way's end, in pixels of the screen.
  wayEnd = (gl_Position.xy / gl_Position.w * 0.5 + 0.5) * viewport;
  int ways = gl_VertexID - 1;
  bool isAhead = ways > ranWays || ways == ranWays && ranPart < 0.5;
  // The lit block lies before everything else, what is ahead of the tool behind all that has been run.
  if (isLit) gl_Position.z = gl_Position.z * 0.01 - gl_Position.w * 0.98;
  if (isAhead) gl_Position.z = gl_Position.z * 0.005 + gl_Position.w * 0.99;
  float strength = isAhead ? aheadStrength : 1.0;
  plain = vec4((isLit ? litColour : ownColour()) * strength, strength);
  bool isGone = line >= goneFirst && line <= goneLast;
  bool isShown = (shownStyles & (1 << style)) != 0 && hidden < 0.5 && !isGone;
  if (!isShown) style = ${PathStyle.none};
}`;

/** Rapid: long dashes. Plunge: short dashes. All else: a full line. */
export const stripFragmentShader = `
precision highp float;
precision highp int;
uniform float pixelRatio;
flat in int style;
flat in vec4 plain;
flat in vec2 wayEnd;
out vec4 colour;

void main() {
  if (style == ${PathStyle.none}) discard;
  if (style == ${PathStyle.rapid} || style == ${PathStyle.plunge}) {
    float along = distance(gl_FragCoord.xy, wayEnd) / pixelRatio;
    if (style == ${PathStyle.rapid} && mod(along, 13.0) > 8.0) discard;
    if (style == ${PathStyle.plunge} && mod(along, 6.0) > 3.5) discard;
  }
  colour = plain;
}`;
