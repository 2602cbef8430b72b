/**
 * What tool a remark speaks of: `T3 M6 (TAP M6X1)`, `(4MM END MILL)`, `(DRILL D5)`.
 * Words of the trade in several languages; source: common practice, no standard says how remarks are written.
 */

import {
  LONGEST_REMARK,
  type LocatedThread,
  locateThread,
  plainCapitals,
  saysLeftHand,
  type Thread,
} from './threadName.ts';
import { diameterIn } from './toolDiameter.ts';

export type ToolKind =
  | 'tap'
  | 'drill'
  | 'end-mill'
  | 'ball-mill'
  | 'face-mill'
  | 'spot-drill'
  | 'centre-drill'
  | 'countersink'
  | 'reamer'
  | 'thread-mill'
  | 'boring-bar'
  | 'chamfer-mill'
  | 'engraver'
  | 'probe'
  | 'other';

/** A tool as far as a remark tells. Lengths in millimetres, angles in degrees as written (the whole angle or not). */
export interface ToolFromRemark {
  readonly kind: ToolKind;
  /** Cutting diameter; of a tap the thread's major diameter. */
  readonly diameter?: number;
  readonly pointAngle?: number;
  readonly teeth?: number;
  /** Of a tap or a thread mill. */
  readonly thread?: Thread;
  readonly hand: 'right' | 'left';
  /** A tap that forms the thread. */
  readonly forming?: true;
  /** A tap for a wire insert: its hole is larger than the thread's own. */
  readonly forInsert?: true;
}

/** A kind of tool, the words for it, and whether these words alone say it or only beside a measure. */
type KindRow = readonly [kind: ToolKind, words: string, needsMeasure?: 'measure'];

/** The first row that fits decides, so the longer names come first. */
const kindRows: readonly KindRow[] = [
  [
    'other',
    'T-?SLOT|DOVETAIL|WOODRUFF|KEYSEAT|SLITTING SAW|SAW|COUNTERBORE|C/?BORE|SPOT ?FACER?|BROACH|EDGE ?FINDER|FLACHSENKER',
  ],
  [
    'thread-mill',
    'THREAD ?MILL(?:ING|S)?|GEWINDEFRAE?SER|FRAISE A FILETER|FRESA (?:DE|PARA) ROSCAR|FRESA (?:PER )?FILETT\\w*',
  ],
  [
    'centre-drill',
    'CENT(?:ER|RE) ?DRILL|C/DRILL|ZENTRIERBOHRER|FORET A CENTRER|BROCA DE CENTR\\w+|PUNTA (?:DA )?CENTR\\w+',
  ],
  ['spot-drill', 'SPOT|SPOTS|SPOTTING|SPOT ?DRILL(?:S|ING)?|(?:NC-?)?ANBOHRER|FORET A POINTER'],
  ['countersink', 'COUNTER ?SINK|C-?SINK|CSK|(?:KEGEL)?SENKER|FRAISE CONIQUE|AVELLANADOR|SVASATORE'],
  ['reamer', 'REAM|REAMER|REAMING|REIBAHLE|ALESOIR|ESCARIADOR|ALESATORE'],
  [
    'boring-bar',
    'SINGLE[ -]?POINT(?:ED)?|(?:\\d|DOUBLE|TWIN|TWO|TRIPLE|THREE)[ -]*STARTS?|THREADING ?(?:BAR|TOOL)|BORING ?(?:BAR|HEAD|TOOL)|AUSDREH\\w*|AUSSPINDEL\\w*|BARRE D.ALESAGE|BARRA DE MANDRINAR|BARENO',
  ],
  ['chamfer-mill', 'CHAMFER ?(?:END ?)?(?:MILL|TOOL|CUTTER)|FASENFRAE?SER|FRAISE A CHANFREINER'],
  ['chamfer-mill', 'CHAMFER|DEBURR?', 'measure'],
  ['engraver', 'ENGRAVER|ENGRAVING ?(?:TOOL|BIT|CUTTER)|GRAVIERSTICHEL|GRAVEUR'],
  ['probe', 'PROBE|3D-?TASTER|MESSTASTER|PALPEUR|PALPADOR'],
  [
    'face-mill',
    'FACE ?MILL|FACING (?:MILL|HEAD|CUTTER)|SHELL ?MILL|FLY ?CUTTER|PLANFRAE?SER|MESSERKOPF|FRAISE A SURFACER',
  ],
  [
    'ball-mill',
    'BALL(?: |-)?(?:NOSED?|END(?:ED)?)?(?: |-)?(?:MILL|ENDMILL|END MILL|EM)|BALL(?: |-)?NOSED?|KUGELFRAE?SER|KUGELKOPFFRAE?SER|FRAISE (?:HEMISPHERIQUE|BOULE)',
  ],
  ['ball-mill', 'BALL', 'measure'],
  [
    'end-mill',
    'END ?MILLS?|SLOT ?DRILL|BULL ?NOSED?|TAPER MILL|ROUGHING MILL|SCHAFTFRAE?SER|SCHRUPPFRAE?SER|FRAISE|FRESA',
  ],
  ['end-mill', 'EM|MILL|\\w*FRAE?SER', 'measure'],
];

const wholeWord = (words: string): RegExp => new RegExp(`(?<![A-Z])(?:${words})(?![A-Z])`);
const kindPatterns = kindRows.map(([kind, words, needs]) => ({ kind, pattern: wholeWord(words), needs }));

const TAP_WORDS =
  'TAP|TAPS|TAPPING|[A-Z]*GEWINDEBOHRER|GEWINDEFORMER|GEWINDEFURCHER|TARAUD|TARAUDS|TARAUDAGE|MACHO|MACHOS|MASCHIO|MASCHI|GANGTAPP|GEVINDTAP|SNITTAP|KIERRETAPPI|GWINTOWNIK|ZAVITNIK|MENETFURO|KILAVUZ';
const DRILL_WORDS = 'DRILL|DRILLS|DRILLING|(?:SPIRAL|KERNLOCH|WENDEPLATTEN)?BOHRER|FORET|BROCA|PUNTA';
const tapPattern = wholeWord(TAP_WORDS);
const drillPattern = wholeWord(DRILL_WORDS);
/** "TAP DRILL" and "TAP HOLE" speak of the hole before the tap; "TAPER MILL" never matches, being one longer word. */
const forTheTap = new RegExp(`(?<![A-Z])(?:${TAP_WORDS})[ -]*(?:DRILL|HOLE|SIZE|CLEARANCE|HEAD)`);
const noTapBeside = wholeWord(
  'DRILL\\w*|SPOT\\w*|FOR|TAPER\\w*|\\w*MILL|MILLS|MILLING|HOLES?|SCREWS?|BOLTS?|CLEARANCE|SINGLE|FITTINGS?|PLUGS?|PORTS?|NIPPLES?|PIPES?',
);
const FORMING =
  /(?<![A-Z])(?:(?:THREAD[ -]?)?FORM(?:ING|ED|ER)?|ROLL(?:ING|ED)?|FLUTELESS|CHIPLESS|GEWINDEFORMER|GEWINDEFURCHER)(?![A-Z])/;
const FOR_INSERT = wholeWord('STI|INSERTS?|EG ?M ?\\d[\\d.]*');
/** Words that look like a block switched off rather than a remark about a tool. */
const switchedOffBlock = /(?<![A-Z])(?:G\d|[YZ][-+]?[\d.])/;

/** Cheap first look: no word of a tool and no thread with a pitch means there is nothing to read. */
const worthReading =
  /TAP|DRILL|MILL|REAM|BOR(?:E|ING)|SPOT|SINK|CSK|CHAMFER|DEBUR|GRAV|PROB|CUTTER|\bEM\b|\dEM\b|BALL|NOSE|SAW|SLOT|BROACH|FINDER|DOVETAIL|WOODRUFF|KEYSEAT|BOHRER|FR(?:Ä|AE?)SER|SENKER|AHLE|FORMER|FURCHER|TASTER|DREH|SPINDEL|KOPF|FRAIS|FRESA|FORET|TARAU|ALES|AL[ÉE]S|BAR|BROCA|MACHO|MASCHI|PUNTA|AVELLAN|SVASA|ESCARIA|PALP|GWINT|ZAVIT|Z[ÁA]VIT|MENETF|KILAVUZ|[\d"] ?-\d|\d ?X ?[\d.]|[Ø⌀]|NPT|BSP|SINGLE|THREADING|\bG ?\d/i;

/** The markers of generated blocks name blocks and values, `CLEAR-TAP THREAD=M6`: they describe no tool. */
const OWN_MARKER = /^\s*BLOCKWRIGHT-/i;

/**
 * Reads the tool that a remark speaks of, or undefined when it speaks of none.
 * A measure without a unit has the program's (`unitsInch`); MM, IN and " in the remark say otherwise.
 * Quick on remarks that have nothing to do with tools.
 */
export function readToolRemark(text: string, unitsInch: boolean): ToolFromRemark | undefined {
  if (text.length > LONGEST_REMARK || !worthReading.test(text) || OWN_MARKER.test(text)) return undefined;
  const capitals = plainCapitals(text);
  const tapWord = tapPattern.test(capitals);
  const located = locateThread(capitals, tapWord);
  const rest = located ? cutOut(capitals, located) : capitals;
  const diameter = diameterIn(rest, unitsInch);
  const kind = kindOf(capitals, located, tapWord, diameter !== undefined);
  if (kind === undefined) return undefined;
  const thread = kind === 'tap' || kind === 'thread-mill' ? located?.thread : undefined;
  const pointAngle = pointAngleIn(capitals);
  const teeth = teethIn(rest);
  const ownDiameter = kind === 'tap' ? (thread?.diameter ?? diameter) : diameter;
  return {
    kind,
    hand: saysLeftHand(capitals) ? 'left' : 'right',
    ...(ownDiameter === undefined ? {} : { diameter: ownDiameter }),
    ...(pointAngle === undefined ? {} : { pointAngle }),
    ...(teeth === undefined ? {} : { teeth }),
    ...(thread === undefined ? {} : { thread }),
    ...(kind === 'tap' && FORMING.test(capitals) ? { forming: true } : {}),
    ...(kind === 'tap' && FOR_INSERT.test(capitals) ? { forInsert: true } : {}),
  };
}

function cutOut(text: string, { start, end }: LocatedThread): string {
  return `${text.slice(0, start)} , ${text.slice(end)}`;
}

function kindOf(
  capitals: string,
  located: LocatedThread | undefined,
  tapWord: boolean,
  measured: boolean,
): ToolKind | undefined {
  if (tapWord && isTap(capitals)) return 'tap';
  const named = kindPatterns.find(({ pattern, needs }) => (needs === undefined || measured) && pattern.test(capitals));
  if (named) return named.kind;
  if (drillPattern.test(capitals)) return 'drill';
  if (/^\s*(?:T ?\d+[ :-]*)?Ø ?[\d.]+(?: ?MM| ?IN|")?\s*$/.test(capitals)) return 'other';
  if (isPipeThreadAlone(capitals, located)) return 'tap';
  const bareThread = located?.pitchGiven === true && !noTapBeside.test(capitals) && !switchedOffBlock.test(capitals);
  return bareThread && !tapWord ? 'tap' : undefined;
}

/** "G1/4" or "1/8 NPT" and nothing else: the name has one pitch only. */
function isPipeThreadAlone(capitals: string, located: LocatedThread | undefined): boolean {
  const series = located?.thread.series;
  if (located === undefined || (series !== 'pipe-g' && series !== 'npt')) return false;
  return /^\s*(?:T ?\d+)?[\s,:-]*$/.test(cutOut(capitals, located));
}

/** A remark with the word for a tap in it is about a tap unless the word only says what the hole or the mill is for. */
function isTap(capitals: string): boolean {
  if (forTheTap.test(capitals)) return false;
  const before = capitals.slice(0, capitals.search(tapPattern));
  return !drillPattern.test(before) && !wholeWord('FOR|SPOT\\w*|CHAMFER|CSK|THREAD ?MILL|REAM\\w*|NO').test(before);
}

function pointAngleIn(capitals: string): number | undefined {
  const match = /(?<![\d.])(\d{2,3}(?:\.\d+)?) ?-?(?:DEG(?:REES?|S)?|GRAD|°|º)/.exec(capitals);
  const angle = match ? Number(match[1]) : 0;
  return angle >= 30 && angle <= 180 ? angle : undefined;
}

function teethIn(capitals: string): number | undefined {
  const match =
    /(?<![A-Z])Z ?=? ?(\d{1,2})(?![\d.])/.exec(capitals) ??
    /(?<![\d.])(\d{1,2}) ?-?(?:FLUTES?|FLUTED|FLT?S?|F|TEETH|TOOTH|INSERTS?|SCHNEIDEN|ZAHNE|DENTS)(?![A-Z])/.exec(
      capitals,
    );
  const teeth = match ? Number(match[1]) : 0;
  return teeth > 0 ? teeth : undefined;
}
