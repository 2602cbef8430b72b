// Colours: the editor's own for everything around the path; for the path those of Okabe and Ito (2008), which people
// with any kind of colour vision can tell apart, and amounts in the viridis scale. Which kind of move it is shows in the
// line's style as well.
import { PathStyle } from '../../server/src/core/geometry/packedLayout.ts';

/** The colours that the page's theme gives, and those of the path on it. */
export interface Theme {
  readonly background: string;
  readonly foreground: string;
  readonly grid: string;
  /** What a repair would lead to: the theme's colour of what is added. */
  readonly ghost: string;
  /** `#rrggbb` by `PathStyle`. */
  readonly path: readonly string[];
  /** `#rrggbb` for the first tool, the second … */
  readonly tools: readonly string[];
  /** The part of the viridis scale, 0 dark to 1 bright, that stands out against the background. */
  readonly ramp: readonly [number, number];
  /** The contour as programmed beside the path of the compensated cutter. */
  readonly contour: string;
  /** A second program laid over. */
  readonly other: string;
}

const ORANGE = '#e69f00';
const SKY_BLUE = '#56b4e9';
const BLUISH_GREEN = '#009e73';
const YELLOW = '#f0e442';
const BLUE = '#0072b2';
const VERMILLION = '#d55e00';
const REDDISH_PURPLE = '#cc79a7';
const BLACK = '#000000';

const byStyle = (rapid: string, cut: string, arc: string, plunge: string, helix: string): string[] => {
  const colours = ['#000000', '', '', '', '', ''];
  colours[PathStyle.rapid] = rapid;
  colours[PathStyle.cut] = cut;
  colours[PathStyle.plunge] = plunge;
  colours[PathStyle.helix] = helix;
  colours[PathStyle.arc] = arc;
  return colours;
};

const ON_DARK = {
  path: byStyle(REDDISH_PURPLE, SKY_BLUE, BLUISH_GREEN, ORANGE, YELLOW),
  tools: [SKY_BLUE, ORANGE, BLUISH_GREEN, YELLOW, REDDISH_PURPLE, VERMILLION, BLUE],
  ramp: [0.25, 1],
} as const;
const ON_LIGHT = {
  path: byStyle(REDDISH_PURPLE, BLUE, BLUISH_GREEN, VERMILLION, ORANGE),
  tools: [BLUE, VERMILLION, BLUISH_GREEN, REDDISH_PURPLE, ORANGE, SKY_BLUE, BLACK],
  ramp: [0, 0.8],
} as const;

/** Reads the theme that the page has now. */
export function readTheme(body: HTMLElement): Theme {
  const style = getComputedStyle(body);
  const read = (name: string, otherwise: string): string => style.getPropertyValue(name).trim() || otherwise;
  const light = body.classList.contains('vscode-light') || body.classList.contains('vscode-high-contrast-light');
  return {
    background: read('--vscode-editor-background', light ? '#ffffff' : '#1e1e1e'),
    foreground: read('--vscode-editor-foreground', light ? '#000000' : '#ffffff'),
    grid: read('--vscode-editorRuler-foreground', light ? '#d3d3d3' : '#5a5a5a'),
    ghost: read('--vscode-gitDecoration-addedResourceForeground', light ? '#587c0c' : '#81b88b'),
    contour: read('--vscode-descriptionForeground', light ? '#616161' : '#a0a0a0'),
    other: read('--vscode-charts-purple', light ? '#652d90' : '#b180d7'),
    ...(light ? ON_LIGHT : ON_DARK),
  };
}
