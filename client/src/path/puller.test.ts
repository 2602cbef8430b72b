import { describe, expect, it } from 'vitest';
import type { PathRequest } from '../../../server/src/core/geometry/pathRequest.ts';
import type { PathSummary } from '../../../server/src/core/geometry/pathSummary.ts';
import type { SideLayer, ToView } from '../../view/messages.ts';
import { PathPuller } from './puller.ts';

/** A server that has these pieces, and a view that hears. */
class Stage {
  pieces = [1, 2, 3];
  summary: PathSummary | undefined;
  heard: ToView[] = [];
  /** Ids of pieces, −1 the list; plus a half where their times are asked for. */
  asked: number[] = [];
  layers = new Set<string>();
  hears = true;
  underWay = 0;
  most = 0;
  beforeAnswer: ((chunk: number) => void) | undefined;

  readonly puller: PathPuller;

  constructor(layer?: SideLayer) {
    const say = async (message: ToView): Promise<boolean> => {
      if (this.hears) this.heard.push(message);
      return this.hears;
    };
    this.puller = new PathPuller('u', { request: (header) => this.#answer(header) }, say, layer);
  }

  async #answer({ chunk, what, layer }: PathRequest): Promise<ArrayBuffer> {
    this.asked.push(what === 'times' ? chunk + 0.5 : chunk);
    this.layers.add(layer);
    this.most = Math.max(this.most, ++this.underWay);
    await new Promise((resolve) => setTimeout(resolve, 1));
    this.underWay--;
    this.beforeAnswer?.(chunk);
    if (chunk >= 0) return new ArrayBuffer(this.pieces.includes(chunk) ? 8 : 0);
    const pieces = this.pieces.map((id) => ({ id, firstLine: 0, vertices: 1, seconds: 1 }));
    const index = { version: 1, inch: false, pieces, findings: [], unplaced: 0, summary: this.summary };
    return new TextEncoder().encode(JSON.stringify(index)).buffer;
  }

  get received(): number[] {
    return this.heard.flatMap((message) => (message.type === 'piece' ? [message.id] : []));
  }
}

const settle = (): Promise<void> => new Promise((resolve) => setTimeout(resolve, 60));

describe('PathPuller', () => {
  it('fetches the list, then each piece, one at a time', async () => {
    const stage = new Stage();
    stage.puller.changed();
    await settle();
    expect(stage.asked).toEqual([-1, 1, 2, 3]);
    expect(stage.most).toBe(1);
    expect(stage.heard[0].type).toBe('index');
  });

  it('fetches only what has changed after an edit', async () => {
    const stage = new Stage();
    stage.puller.changed();
    await settle();
    stage.pieces = [1, 4, 3];
    stage.puller.changed();
    await settle();
    expect(stage.received).toEqual([1, 2, 3, 4]);
  });

  it('fetches times once they are wanted, behind the pieces, and after an edit only those of what has changed', async () => {
    const stage = new Stage();
    stage.puller.changed();
    await settle();
    stage.puller.wantTimes();
    await settle();
    expect(stage.asked).toEqual([-1, 1, 2, 3, -1, 1.5, 2.5, 3.5]);
    expect(stage.heard.filter(({ type }) => type === 'times')).toHaveLength(3);
    stage.pieces = [1, 4, 3];
    stage.asked = [];
    stage.puller.changed();
    await settle();
    expect(stage.asked).toEqual([-1, 4, 4.5]);
    stage.asked = [];
    stage.puller.restart();
    await settle();
    expect(stage.asked).toEqual([-1, 1, 4, 3, 1.5, 4.5, 3.5]);
  });

  it('marks what belongs to a path beside the program’s own', async () => {
    const stage = new Stage('other');
    stage.puller.changed();
    await settle();
    expect([...stage.layers]).toEqual(['other']);
    expect(stage.heard.every((message) => 'layer' in message && message.layer === 'other')).toBe(true);
    const own = new Stage();
    own.puller.changed();
    await settle();
    expect(own.heard.some((message) => 'layer' in message)).toBe(false);
  });

  it('drops the rest of a list when the program changes meanwhile', async () => {
    const stage = new Stage();
    stage.beforeAnswer = (chunk) => {
      if (chunk !== 1) return;
      stage.beforeAnswer = undefined;
      stage.pieces = [1, 5];
      stage.puller.changed();
    };
    stage.puller.changed();
    await settle();
    expect(stage.asked).toEqual([-1, 1, -1, 5]);
  });

  it('hands everything over again to a view that begins anew', async () => {
    const stage = new Stage();
    stage.puller.changed();
    await settle();
    stage.puller.restart();
    await settle();
    expect(stage.received).toEqual([1, 2, 3, 1, 2, 3]);
  });

  it('hands over the pieces of another server under new numbers, though it counts from the beginning', async () => {
    const stage = new Stage();
    stage.puller.changed();
    await settle();
    stage.puller.serverChanged();
    await settle();
    expect(stage.asked).toEqual([-1, 1, 2, 3, -1, 1, 2, 3]);
    expect(stage.received).toEqual([1, 2, 3, 5, 6, 7]);
    const lists = stage.heard.flatMap((message) => (message.type === 'index' ? [message.index.pieces] : []));
    expect(lists.map((pieces) => pieces.map(({ id }) => id))).toEqual([
      [1, 2, 3],
      [5, 6, 7],
    ]);
  });

  it('says where tool sections and stops are by the new numbers', async () => {
    const stage = new Stage();
    const amounts = { cutSeconds: 0, rapidSeconds: 0, waitSeconds: 0, cutLength: 0, rapidLength: 0 };
    const section = { tool: { number: 1, description: '' }, firstLine: 0, start: { piece: 2, vertex: 7 } };
    stage.summary = {
      ...amounts,
      seconds: 0,
      sections: [{ ...section, startSeconds: 0, seconds: 0, cutLength: 0, rapidLength: 0 }],
      moreSections: 0,
      offsets: [],
      stops: [{ kind: 'stop', line: 4, at: { piece: 3, vertex: 1 }, seconds: 0 }],
      untimed: 0,
    };
    stage.puller.changed();
    await settle();
    stage.puller.serverChanged();
    await settle();
    const lists = stage.heard.flatMap((message) => (message.type === 'index' ? [message.index] : []));
    const shift = lists[1].pieces[0].id - lists[0].pieces[0].id;
    expect(shift).toBeGreaterThan(0);
    expect(lists.map(({ summary }) => summary?.sections[0].start)).toEqual([
      { piece: 2, vertex: 7 },
      { piece: 2 + shift, vertex: 7 },
    ]);
    expect(lists.map(({ summary }) => summary?.stops[0].at.piece)).toEqual([3, 3 + shift]);
  });

  it('asks no more of the server while the view is hidden', async () => {
    const stage = new Stage();
    stage.hears = false;
    stage.puller.changed();
    await settle();
    expect(stage.asked).toEqual([-1]);
  });

  it('says nothing after its end', async () => {
    const stage = new Stage();
    stage.puller.changed();
    stage.puller.end();
    await settle();
    expect(stage.heard).toEqual([]);
  });

  it('tells the view where the path cannot be fetched, and tries again at the next change', async () => {
    const heard: ToView[] = [];
    const puller = new PathPuller(
      'u',
      { request: () => Promise.reject(new Error('the server has ended')) },
      async (m) => {
        heard.push(m);
        return true;
      },
    );
    puller.changed();
    await settle();
    puller.changed();
    await settle();
    expect(heard).toEqual(Array(2).fill({ type: 'trouble', text: 'the server has ended' }));
  });
});
