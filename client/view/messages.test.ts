import { describe, expect, it } from 'vitest';
import { readFromView, readToView } from './messages.ts';

const index = {
  version: 3,
  inch: false,
  pieces: [{ id: 1, firstLine: 0, vertices: 9, seconds: 2.5 }],
  findings: [{ line: 4, severity: 'error', message: 'm', x: 1, y: 2, z: 3 }],
  unplaced: 0,
};

const place = { piece: 1, vertex: 3 };
const section = {
  tool: { number: 1, description: 'END MILL D8', kind: 'end-mill', diameter: 8 },
  firstLine: 1,
  start: place,
  startSeconds: 0,
  seconds: 2.5,
  cutLength: 10,
  rapidLength: 20,
  cutBounds: [0, 0, -1, 10, 0, 0],
};
const summary = {
  seconds: 2.5,
  cutSeconds: 2,
  rapidSeconds: 0.5,
  waitSeconds: 0,
  cutLength: 10,
  rapidLength: 20,
  sections: [section],
  moreSections: 0,
  offsets: ['G54'],
  stops: [{ kind: 'optional', line: 7, at: place, seconds: 2 }],
  untimed: 0,
  stopped: { line: 9, why: 'more than 5 moves' },
};
const move = {
  line: 4,
  kind: 'arc',
  from: [0, 0, null],
  to: [10, 0, null],
  centre: [5, 0, null],
  radius: 5,
  endRadius: 5,
  sweep: 180,
  length: 15.7,
  feed: null,
  speed: 3000,
  tool: 1,
  seconds: null,
  offset: 'G54',
  plane: 'XY',
  pass: 2,
  passes: 3,
  part: 1,
  parts: 1,
  text: ['Clockwise arc in XY.'],
};

describe('messages to the view', () => {
  it('takes what the extension says', () => {
    const data = new ArrayBuffer(8);
    for (const message of [
      { type: 'program', uri: 'u', name: 'a.nc' },
      { type: 'index', uri: 'u', index },
      { type: 'piece', uri: 'u', id: 5, data },
      { type: 'lit', uri: 'u', first: 2, last: 2 },
      { type: 'ghost', uri: 'u' },
      { type: 'ghost', uri: 'u', data },
      { type: 'ghost', uri: 'u', data, isBlock: true },
      { type: 'ghost', uri: 'u', data, isBlock: true, gone: { first: 3, last: 9 } },
      { type: 'over', uri: 'u' },
      { type: 'over', uri: 'u', name: 'b.nc' },
      { type: 'trouble', text: 't' },
      { type: 'follows', isOn: false },
    ]) {
      expect(readToView(message)).toEqual(message);
    }
  });

  it('takes nothing else', () => {
    for (const message of [
      null,
      'ready',
      {},
      { type: 'program', uri: 'u' },
      { type: 'index', uri: 'u', index: { ...index, inch: 1 } },
      { type: 'index', uri: 'u', index: { ...index, pieces: [{ ...index.pieces[0], id: -1 }] } },
      { type: 'index', uri: 'u', index: { ...index, findings: [{ ...index.findings[0], z: null }] } },
      { type: 'index', uri: 'u', index: { ...index, findings: [{ ...index.findings[0], severity: 'bad' }] } },
      { type: 'piece', uri: 'u', id: 5, data: [1, 2] },
      { type: 'piece', uri: 'u', id: 1.5, data: new ArrayBuffer(1) },
      { type: 'lit', uri: 'u', first: 2, last: 1 },
      { type: 'trouble' },
      { type: 'index', uri: 'u', index, layer: 'program' },
      { type: 'index', uri: 'u', index: { ...index, pieces: [{ ...index.pieces[0], seconds: -1 }] } },
      { type: 'index', uri: 'u', index: { ...index, summary: { ...summary, untimed: undefined } } },
      { type: 'index', uri: 'u', index: { ...index, summary: { ...summary, sections: [{ ...section, start: 4 }] } } },
      { type: 'index', uri: 'u', index: { ...index, summary: { ...summary, stops: [{ kind: 'tool' }] } } },
      { type: 'index', uri: 'u', index: { ...index, summary: { ...summary, offsets: [54] } } },
      { type: 'times', uri: 'u', id: 5, data: 'x' },
      { type: 'piece', uri: 'u', id: 5, data: new ArrayBuffer(8), layer: 'ghost' },
      { type: 'explained', uri: 'u', ticket: 4 },
      { type: 'explained', uri: 'u', ticket: 4, move: { ...move, from: [0, 0] } },
      { type: 'explained', uri: 'u', ticket: 4, move: { ...move, kind: 'jump' } },
      { type: 'explained', uri: 'u', ticket: 4, move: { ...move, text: 'x' } },
      { type: 'explained', uri: 'u', ticket: 4, move: { ...move, pass: 0 } },
      { type: 'explained', uri: 'u', ticket: -1, move },
      { type: 'over', uri: 'u', name: 7 },
      { type: 'over', name: 'b.nc' },
      { type: 'follows', isOn: 1 },
      { type: 'other', uri: 'u' },
    ]) {
      expect(readToView(message)).toBeUndefined();
    }
  });
});

describe('messages from the view', () => {
  it('takes a line to go to, following and readiness, nothing else', () => {
    expect(readFromView({ type: 'ready', more: 1 })).toEqual({ type: 'ready' });
    for (const message of [
      { type: 'goToLine', uri: 'u', line: 0 },
      { type: 'goToLine', uri: 'u', line: 3, pass: 2, at: [1, 2, 3] },
      { type: 'follow', isOn: true },
      { type: 'times', uri: 'u' },
      { type: 'runs', uri: 'u', line: 0 },
      { type: 'runs', uri: 'u' },
      { type: 'side', uri: 'u', layer: 'contour', isOn: true },
      { type: 'side', uri: 'u', layer: 'other', isOn: false },
      { type: 'explain', ticket: 3, uri: 'u', line: 5, pass: 1, at: [1, 2, 3] },
      { type: 'explain', ticket: 3, uri: 'u', line: 5 },
      { type: 'savePicture', uri: 'u', view: 'space', data: new ArrayBuffer(3) },
      { type: 'saveDrawing', uri: 'u', plane: 'ZX', units: 'inch' },
      { type: 'saveDrawing', uri: 'u', plane: 'XY', units: 'mm', hiddenKinds: ['rapid'], hiddenSections: [0, 2] },
    ]) {
      expect(readFromView(message)).toEqual(message);
    }
    for (const message of [
      undefined,
      3,
      { type: 'goToLine', uri: 'u', line: -1 },
      { type: 'goToLine', line: 1 },
      { type: 'goToLine', uri: 'u', line: 1, pass: 0 },
      { type: 'goToLine', uri: 'u', line: 1, at: [1, 2] },
      { type: 'follow' },
      { type: 'times' },
      { type: 'runs', uri: 'u', line: -1 },
      { type: 'runs', uri: 'u', line: '3' },
      { type: 'runs', line: 3 },
      { type: 'side', uri: 'u', layer: 'ghost', isOn: true },
      { type: 'side', uri: 'u', isOn: true },
      { type: 'side', uri: 'u', layer: 'other' },
      { type: 'explain', uri: 'u', line: 5 },
      { type: 'explain', ticket: 3, uri: 'u', line: 5, at: [1, 2, Number.NaN] },
      { type: 'savePicture', uri: 'u', view: 'below', data: new ArrayBuffer(3) },
      { type: 'savePicture', uri: 'u', view: 'top', data: [1, 2] },
      { type: 'saveDrawing', uri: 'u', plane: 'space', units: 'mm' },
      { type: 'saveDrawing', uri: 'u', plane: 'XY', units: 'mm', hiddenKinds: 'rapid' },
    ]) {
      expect(readFromView(message)).toBeUndefined();
    }
  });
});
