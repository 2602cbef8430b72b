/** What is known of an arc that is being executed; one instance is reused, valid only during the call that gets it. */
export interface ArcFacts {
  clockwise: boolean;
  /** 17, 18 or 19. */
  plane: number;
  /** Place in the alphabet of the plane's first and second axis word, the third (normal) axis, and the two centre words. */
  firstAxis: number;
  secondAxis: number;
  thirdAxis: number;
  firstCentre: number;
  secondCentre: number;
  /** Start and end in the plane and along the normal, work coordinates in mm (NaN unknown). */
  startFirst: number;
  startSecond: number;
  startThird: number;
  endFirst: number;
  endSecond: number;
  endThird: number;
  /** Centre in the plane; NaN where it is not known. */
  centreFirst: number;
  centreSecond: number;
  /** Radius at the start and at the end, mm. */
  radius: number;
  endRadius: number;
  /** Mean radius of the path of the cutter's centre, mm: other than the arc's only under radius compensation. */
  pathRadius: number;
  /** Signed angle, radians, counter-clockwise positive seen from the end of the normal axis. */
  sweep: number;
  /** Given by R. `radiusWord` is the word's index, −1 without. */
  byRadius: boolean;
  /** R as written in mm (NaN without). */
  programmedRadius: number;
  radiusWord: number;
  /** Indexes of the I J K words in the block, −1 where absent. */
  wordI: number;
  wordJ: number;
  wordK: number;
  /** Index of a word for the end point in the plane, −1 where the end point was left out. */
  endWord: number;
  /** Index of the G2/G3 word, −1 where modal. */
  motionWord: number;
  /** Largest difference of the radii that the profile allows, mm. */
  tolerance: number;
  /** Number of turns written, 0 none. */
  turns: number;
  /** Direction of the move before (unit vector in the plane), NaN where unknown or no cut. */
  tangentFirst: number;
  tangentSecond: number;
}
