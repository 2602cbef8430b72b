// Words below the picture on axes that nothing gives.
import { expect, it } from 'vitest';
import { createPackedPath } from '../../server/src/core/geometry/packedLayout.ts';
import type { Frame } from './frame.ts';
import { Picture } from './picture.ts';
import { showWords } from './readout.ts';

/** The picture of a program with one piece, whose axes (bits 1 2 4) are assumed. */
const pictureOf = (assumedAxes: number): Picture => {
  const picture = new Picture();
  picture.takeIndex({
    version: 1,
    inch: false,
    pieces: [{ id: 1, firstLine: 0, vertices: 2, seconds: 1 }],
    findings: [],
    unplaced: 0,
  });
  const path = createPackedPath(2, assumedAxes);
  path.bounds.set([0, 0, 0, 1, 1, 1]);
  picture.takePiece(1, path.buffer);
  return picture;
};

const notesOf = (assumedAxes: number, ghost?: { readonly assumedAxes: number }): string => {
  const element = (): { textContent: string } => ({ textContent: '' });
  const frame = { notice: element(), notes: element(), extents: element() };
  showWords(frame as unknown as Frame, pictureOf(assumedAxes), '', '', false, ghost);
  return frame.notes.textContent;
};

it('names the axes that the program never gives, unless the block that is drawn gives them', () => {
  expect(notesOf(1)).toBe('X is never given: drawn at X0.');
  expect(notesOf(3)).toBe('X is never given: drawn at X0. Y is never given: drawn at Y0.');
  expect(notesOf(3, { assumedAxes: 0 })).toBe('');
  expect(notesOf(3, { assumedAxes: 2 })).toBe('Y is never given: drawn at Y0.');
  // What the program gives, the block need not give.
  expect(notesOf(0, { assumedAxes: 1 })).toBe('');
});
