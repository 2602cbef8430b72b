/**
 * Groups of materials with what tapping needs of them. Common practice, no source: round values in the middle of what
 * handbooks print; a shop's own `kc11` goes before them.
 */

/** One group of materials. */
export interface MaterialGroup {
  readonly name: string;
  /** Specific cutting force in tapping, N/mm². */
  readonly tappingForce: number;
  /** Highest cutting speed that coated taps of high-speed steel stand, m/min. */
  readonly tapSpeed: number;
}

/** name, words for it, kc in tapping N/mm², highest speed of a tap m/min. The first row that fits decides. */
type Row = readonly [name: string, words: RegExp, tappingForce: number, tapSpeed: number];

const rows: readonly Row[] = [
  ['stainless steel', /STAINLESS|INOX|\bVA\b|V2A|V4A|\b1\.4\d{3}|\b(?:303|304|316)L?\b|X\dCR|X\d{1,2}CRNI/, 2500, 20],
  ['heat-resistant alloy', /NICKEL|\bNI\b|HEAT.?RES|\b2\.4\d{3}/, 3000, 8],
  ['titanium', /TITAN|\bTI\b|TI-?6|TIAL|\b3\.7\d{3}/, 2200, 15],
  ['hard steel', /HARD|TOOL ?STEEL|WERKZEUGSTAHL|\b1\.2\d{3}|HRC/, 3000, 12],
  ['cast iron', /CAST ?IRON|GUSS|FONTE|GHISA|GREY IRON|\bGG|\bGJ|EN-?GJ/, 1600, 30],
  ['cast aluminium', /CAST ?AL|ALSI|AL ?SI/, 800, 50],
  ['aluminium', /ALU|ALMG|ALCU|ALZN|\bAL\b|\b(?:2|5|6|7)0\d{2}\b|6082|7075/, 800, 60],
  ['brass', /BRASS|MESSING|LAITON|OTTONE|CUZN|\bMS ?\d{2}/, 900, 60],
  ['bronze', /BRONZE|CUSN/, 1400, 30],
  ['copper', /COPPER|KUPFER|CUIVRE|\bCU\b/, 1200, 30],
  ['plastic', /PLASTIC|KUNSTSTOFF|\bPOM\b|\bPA ?6|NYLON|ACETAL|PEEK|\bPVC\b|\bPE\b/, 250, 60],
  ['alloyed steel', /ALLOY|CRMO|42CR|16MN|\b4140\b|\b4340\b|\b1\.7\d{3}|\b1\.6\d{3}/, 2600, 25],
  [
    'steel',
    /STEEL|STAHL|ACIER|ACCIAIO|ACERO|\bC ?\d{2}\b|\bST ?\d{2}|\bS ?[23]\d{2}|\b1\.[01]\d{3}|\b1018\b|\b1045\b/,
    2200,
    35,
  ],
];

/** The group that a material's name speaks of; undefined where it names none. */
export const materialGroup = (name: string): MaterialGroup | undefined => {
  const capitals = name.toUpperCase();
  const row = rows.find(([, words]) => words.test(capitals));
  return row && { name: row[0], tappingForce: row[2], tapSpeed: row[3] };
};
