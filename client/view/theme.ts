// Colours: the editor's own for everything around the path; for the path those of Okabe and Ito (2008), which people
// with any kind of colour vision can tell apart. Which kind of move it is shows in the line's style as well.
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
}

const ORANGE = '#e69f00';
const SKY_BLUE = '#56b4e9';
const BLUISH_GREEN = '#009e73';
const YELLOW = '#f0e442';
const BLUE = '#0072b2';
const VERMILLION = '#d55e00';
const REDDISH_PURPLE = '#cc79a7';

const byStyle = (rapid: string, cut: string, plunge: string, helix: string): string[] => {
  const colours = ['#000000', '', '', '', ''];
  colours[PathStyle.rapid] = rapid;
  colours[PathStyle.cut] = cut;
  colours[PathStyle.plunge] = plunge;
  colours[PathStyle.helix] = helix;
  return colours;
};

const ON_DARK = byStyle(REDDISH_PURPLE, SKY_BLUE, ORANGE, YELLOW);
const ON_LIGHT = byStyle(REDDISH_PURPLE, BLUE, VERMILLION, BLUISH_GREEN);

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
    path: light ? ON_LIGHT : ON_DARK,
  };
}
