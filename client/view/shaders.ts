// The lines of the path. An instance is one way from a vertex to the next, drawn as a rectangle of the line's width, so
// that lines can be thick and dashed without one more number a vertex: dashes count screen pixels from the way's start.
import { PathStyle, STYLE_BITS, STYLE_MASK } from '../../server/src/core/geometry/packedLayout.ts';

export const STYLE_COUNT = Object.keys(PathStyle).length;

/** What a mesh is of. */
export const Look = {
  /** The program's own path. */
  own: 0,
  /** What a repair or a block would lead to. */
  ghost: 1,
  /** The contour as programmed, beside the path of the compensated cutter. */
  contour: 2,
  /** A second program. */
  other: 3,
} as const;

/** Where the colours come from. */
export const ColourSource = {
  /** The kind of line. */
  style: 0,
  /** The row of the way, through a table of colours. */
  row: 1,
  /** Z, through the scale. */
  depth: 2,
  /** Seconds, through the scale. */
  time: 3,
} as const;

/**
 * `corner` is (0 start, 1 end; −1 or +1 across), `start` and `end` the way's ends, `code` line and style of its end.
 * Attributes that a mesh has not got are 0: `walked` mm along the path at the start, `row` of the way, `hidden` 1 where it is
 * left out, `fromSeconds` and `toSeconds` from the piece's start.
 */
export const vertexShader = `
precision highp float;
precision highp int;
uniform mat4 modelMatrix;
uniform mat4 modelViewMatrix;
uniform mat4 projectionMatrix;
uniform vec2 viewport;
uniform float pixelRatio;
uniform float widths[${STYLE_COUNT}];
uniform int shownStyles;
uniform int litFirst;
uniform int litLast;
uniform int goneFirst;
uniform int goneLast;
uniform int look;
uniform int colourSource;
uniform vec2 range;
uniform float startSeconds;
uniform float pixelsPerMm;
uniform highp sampler2D rowColours;
uniform int ranWays;
uniform float ranPart;
in vec2 corner;
in vec3 start;
in vec3 end;
in uint code;
in float walked;
in float row;
in float hidden;
in float fromSeconds;
in float toSeconds;
flat out int style;
flat out int isLit;
flat out int isHole;
flat out float halfWidth;
flat out float wayLength;
flat out float ranLength;
flat out vec4 rowColour;
out vec2 place;
out float walkedPixels;
out float part;

/** How far an amount is between the ends of the scale. */
float partOf(float amount) {
  return range.y > range.x ? (amount - range.x) / (range.y - range.x) : 1.0;
}

float widthOf(int style) {
  if (look == ${Look.ghost}) return style == ${PathStyle.rapid} ? 1.6 : 5.0;
  if (look == ${Look.contour}) return 1.4;
  if (look == ${Look.other}) return 1.8;
  return widths[style] + (isLit == 1 ? 3.0 : 0.0);
}

void main() {
  style = int(code & ${STYLE_MASK}u);
  int line = int(code) >> ${STYLE_BITS};
  isLit = line >= litFirst && line <= litLast ? 1 : 0;
  vec4 from = projectionMatrix * modelViewMatrix * vec4(start, 1.0);
  vec4 to = projectionMatrix * modelViewMatrix * vec4(end, 1.0);
  // With perspective a way that leads behind the eye is cut off before it.
  float fromIn = from.z + from.w;
  float toIn = to.z + to.w;
  bool isBehind = fromIn < 0.0 && toIn < 0.0;
  if (!isBehind && fromIn < 0.0) from = mix(from, to, fromIn / (fromIn - toIn));
  if (!isBehind && toIn < 0.0) to = mix(to, from, toIn / (toIn - fromIn));
  from /= from.w;
  to /= to.w;
  vec2 fromPixel = from.xy * viewport * 0.5;
  vec2 toPixel = to.xy * viewport * 0.5;
  vec2 way = toPixel - fromPixel;
  wayLength = length(way);
  vec2 along = wayLength > 0.001 ? way / wayLength : vec2(1.0, 0.0);
  // How far along it the run has come, pixels; where there is no run every way is behind the tool.
  ranLength = gl_InstanceID < ranWays || look != ${Look.own} ? 1.0e9 : -1.0e9;
  if (gl_InstanceID == ranWays && ranPart > 0.0 && look == ${Look.own}) {
    vec4 now = projectionMatrix * modelViewMatrix * vec4(mix(start, end, ranPart), 1.0);
    ranLength = dot(now.xy / now.w * viewport * 0.5 - fromPixel, along);
  }
  bool isAhead = ranLength == -1.0e9;
  halfWidth = 0.5 * pixelRatio * widthOf(style);
  // Seen along its way a plunge is a hole: a dot that is found among the lines.
  isHole = style == ${PathStyle.plunge} && wayLength <= 0.001 ? 1 : 0;
  if (isHole == 1) halfWidth = pixelRatio * (isLit == 1 ? 5.5 : 4.0);
  float cap = style == ${PathStyle.rapid} ? 0.0 : halfWidth;
  place = vec2(corner.x < 0.5 ? -cap : wayLength + cap, corner.y * halfWidth);
  vec2 pixel = (corner.x < 0.5 ? fromPixel - along * cap : toPixel + along * cap) + vec2(-along.y, along.x) * place.y;
  // What is seen foreshortened has its dots foreshortened as well, so that they run on from way to way.
  float shortened = wayLength > 0.001 ? distance(start, end) * pixelsPerMm / wayLength : 0.0;
  walkedPixels = walked * pixelsPerMm + place.x * shortened;
  rowColour = vec4(0.0);
  part = 0.0;
  if (colourSource == ${ColourSource.row}) {
    ivec2 size = textureSize(rowColours, 0);
    rowColour = texelFetch(rowColours, ivec2(int(row) % size.x, int(row) / size.x), 0);
  } else if (colourSource == ${ColourSource.depth}) {
    part = partOf((corner.x < 0.5 ? start.z : end.z) + modelMatrix[3].z);
  } else if (colourSource == ${ColourSource.time}) {
    part = partOf(startSeconds + (corner.x < 0.5 ? fromSeconds : toSeconds));
  }
  float depth = mix(from.z, to.z, corner.x);
  // The lit block lies before everything else but a ghost.
  float front = look == ${Look.ghost} ? depth * 0.005 - 0.99 : isLit == 1 ? depth * 0.01 - 0.98 : depth;
  // What is ahead of the tool lies behind all that has been run.
  if (isAhead) front = depth * 0.005 + 0.99;
  gl_Position = vec4(pixel / (viewport * 0.5), front, 1.0);
  bool isGone = look == ${Look.own} && line >= goneFirst && line <= goneLast;
  bool isShown = (shownStyles & (1 << style)) != 0 && hidden < 0.5 && !isGone;
  if (isBehind || style == ${PathStyle.none} || !isShown) gl_Position = vec4(2.0, 2.0, 2.0, 1.0);
}`;

/**
 * Rapid: long dashes. Straight cut: a full line. Arc: a full line between two pale edges. Plunge: short dashes. Helix: a
 * double line. Ghost: a row of thick dots, rapids thin long dashes. Contour: fine dots. Second program: dash and dot, rapids fine dots.
 */
export const fragmentShader = `
precision highp float;
precision highp int;
uniform vec3 colours[${STYLE_COUNT}];
uniform vec3 litColour;
uniform vec3 ghostColour;
uniform vec3 contourColour;
uniform vec3 otherColour;
uniform vec3 neutralColour;
uniform vec3 background;
uniform highp sampler2D ramp;
uniform int look;
uniform int colourSource;
uniform int areRapidsColoured;
uniform float pixelRatio;
uniform float aheadStrength;
flat in int style;
flat in int isLit;
flat in int isHole;
flat in float halfWidth;
flat in float wayLength;
flat in float ranLength;
flat in vec4 rowColour;
in vec2 place;
in float walkedPixels;
in float part;
out vec4 colour;

/** Lines beside the path's own. Dots count from the start of the path: the chords of an arc are shorter than a dot. */
vec3 sideColour(float walked) {
  if (look == ${Look.ghost}) {
    // A hole seen from above has no length to count dots along.
    if (isHole == 1) return ghostColour;
    if (style == ${PathStyle.rapid} ? mod(walked, 13.0) > 8.0 : mod(walked, 9.0) > 5.0) discard;
    return ghostColour;
  }
  if (look == ${Look.contour} || style == ${PathStyle.rapid}) {
    if (mod(walked, 5.0) > 2.5) discard;
    return look == ${Look.contour} ? contourColour : otherColour;
  }
  float beat = mod(walked, 20.0);
  if (beat > 12.0 && beat < 15.0 || beat > 17.0) discard;
  return otherColour;
}

vec3 ownColour() {
  if (colourSource == ${ColourSource.row}) {
    bool isKnown = rowColour.a > 0.5 && (areRapidsColoured == 1 || style != ${PathStyle.rapid});
    return isKnown ? rowColour.rgb : neutralColour;
  }
  if (colourSource != ${ColourSource.style}) return texture(ramp, vec2(clamp(part, 0.002, 0.998), 0.5)).rgb;
  vec3 plain = colours[0];
  for (int i = 1; i < ${STYLE_COUNT}; i++) if (i == style) plain = colours[i];
  return plain;
}

void main() {
  float along = place.x / pixelRatio;
  if (isHole == 1 && length(place) > halfWidth) discard;
  if (look != ${Look.own}) {
    colour = vec4(sideColour(walkedPixels / pixelRatio), 1.0);
    return;
  }
  if (style == ${PathStyle.rapid} && mod(along, 13.0) > 8.0) discard;
  if (style == ${PathStyle.plunge} && wayLength > 12.0 * pixelRatio && mod(along, 6.0) > 3.5) discard;
  if (style == ${PathStyle.helix} && abs(place.y) < 0.3 * halfWidth) discard;
  vec3 plain = isLit == 1 ? litColour : ownColour();
  bool isEdge = style == ${PathStyle.arc} && abs(place.y) > 0.42 * halfWidth;
  // The page lies behind: what is faint lets it through (colours are given multiplied by their alpha).
  float strength = place.x > ranLength ? aheadStrength : 1.0;
  colour = vec4((isEdge ? mix(background, plain, 0.4) : plain) * strength, strength);
}`;
