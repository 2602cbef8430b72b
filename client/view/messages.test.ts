import { describe, expect, it } from 'vitest';
import { readFromView, readToView } from './messages.ts';

const index = {
  version: 3,
  inch: false,
  pieces: [{ id: 1, firstLine: 0, vertices: 9 }],
  findings: [{ line: 4, severity: 'error', message: 'm', x: 1, y: 2, z: 3 }],
  unplaced: 0,
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
      { type: 'trouble', text: 't' },
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
      { type: 'index', uri: 'u', index: { ...index, pieces: [{ id: -1, firstLine: 0, vertices: 1 }] } },
      { type: 'index', uri: 'u', index: { ...index, findings: [{ ...index.findings[0], z: null }] } },
      { type: 'index', uri: 'u', index: { ...index, findings: [{ ...index.findings[0], severity: 'bad' }] } },
      { type: 'piece', uri: 'u', id: 5, data: [1, 2] },
      { type: 'piece', uri: 'u', id: 1.5, data: new ArrayBuffer(1) },
      { type: 'lit', uri: 'u', first: 2, last: 1 },
      { type: 'trouble' },
      { type: 'other', uri: 'u' },
    ]) {
      expect(readToView(message)).toBeUndefined();
    }
  });
});

describe('messages from the view', () => {
  it('takes a line to go to and readiness, nothing else', () => {
    expect(readFromView({ type: 'ready', more: 1 })).toEqual({ type: 'ready' });
    expect(readFromView({ type: 'goToLine', uri: 'u', line: 0 })).toEqual({ type: 'goToLine', uri: 'u', line: 0 });
    for (const message of [undefined, 3, { type: 'goToLine', uri: 'u', line: -1 }, { type: 'goToLine', line: 1 }]) {
      expect(readFromView(message)).toBeUndefined();
    }
  });
});
