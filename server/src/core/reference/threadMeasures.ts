/**
 * What follows from a thread's and a drill's measures. Sources beside each; lengths mm, angles degrees.
 */

/** How much longer a drill's tip is than its full diameter: D/(2·tan(θ/2)), by geometry; 0.300·D at 118°. */
export const drillPointLength = (diameter: number, pointAngle: number): number =>
  diameter / (2 * Math.tan((pointAngle * Math.PI) / 360));

/**
 * How much of a 60° thread is there, per cent of the full height: 100·(D − d)/(1.299·P). Common in handbooks (the full
 * height of ISO 724 and ASME B1.1 is 0.6495·P a side); from memory.
 */
export const cutEngagement = (major: number, hole: number, pitch: number): number =>
  (100 * (major - hole)) / (1.299 * pitch);

/** The same for a forming tap, which presses the crest out of the hole's wall: 100·(D − d)/(0.68·P). Common practice, from memory. */
export const formedEngagement = (major: number, hole: number, pitch: number): number =>
  (100 * (major - hole)) / (0.68 * pitch);

/** Cutting speed in m/min of a diameter at a spindle speed in rev/min: π·D·n/1000, the definition. */
export const cuttingSpeedOf = (diameter: number, speed: number): number => (Math.PI * diameter * speed) / 1000;

/** Spindle speed in rev/min for a cutting speed in m/min: 1000·Vc/(π·D). */
export const spindleSpeedFor = (diameter: number, cuttingSpeed: number): number =>
  (1000 * cuttingSpeed) / (Math.PI * diameter);

/**
 * Torque of a tap that cuts, N·m: P²·D·kc/8000 with mm and N/mm². Tap makers' handbooks give it so; from memory, the
 * constant holds for a sharp 60° tap.
 */
export const tapTorque = (diameter: number, pitch: number, cuttingForce: number): number =>
  (pitch * pitch * diameter * cuttingForce) / 8000;

/**
 * Specific cutting force at the chip that a tooth of the tap's lead takes, N/mm²: kc1.1·h^−mc, where the thread's height
 * (0.65·P) is shared out to the `teeth` of the lead. kc1.1 as it is where no exponent is known. From memory.
 */
export const cuttingForceAtTooth = (kc11: number, mc: number | undefined, pitch: number, teeth: number): number =>
  mc === undefined ? kc11 : kc11 * ((0.65 * pitch) / teeth) ** -mc;
