/** The blank that the shop's file gives, and what of a way lies in it. Work coordinates of its offset, mm. */
import type { Configuration, Stock } from '../../machine/configuration.ts';
import { offsetNumber } from '../../machine/machinePosition.ts';
import { type PlanBox, type Share, shareInBox } from './planBox.ts';

/** The blank as rules ask for it. */
export interface StockShape {
  /** `Mode.offset` of the offset that it is given in. */
  readonly offset: number;
  readonly top: number;
  readonly bottom: number;
  /** The smallest upright rectangle around it, seen from above. */
  readonly outline: PlanBox;
  /** The share of the straight way from (x, y) by (dx, dy) that lies in the blank seen from above, widened by `margin`. */
  share(x: number, y: number, dx: number, dy: number, margin: number): Share;
  /** True if a place lies in the blank seen from above, widened by `margin`. */
  holds(x: number, y: number, margin: number): boolean;
}

const shapes = new WeakMap<Stock, StockShape>();

/** The blank, undefined where none is given. */
export const stockShape = (configuration: Configuration): StockShape | undefined => {
  const { stock } = configuration;
  if (stock === undefined) return undefined;
  const known = shapes.get(stock);
  if (known !== undefined) return known;
  const shape = stock.shape === 'box' ? boxShape(stock) : cylinderShape(stock);
  shapes.set(stock, shape);
  return shape;
};

/** Top of the work: of the blank where it is given for this offset, else the work's zero. */
export const topOfWork = (configuration: Configuration, offset: number): number => {
  const shape = stockShape(configuration);
  return shape !== undefined && shape.offset === offset ? shape.top : 0;
};

const boxShape = (stock: Stock & { readonly shape: 'box' }): StockShape => {
  const { min, max } = stock;
  const share: StockShape['share'] = (x, y, dx, dy, margin) =>
    shareInBox(
      { minX: min[0] - margin, minY: min[1] - margin, maxX: max[0] + margin, maxY: max[1] + margin },
      x,
      y,
      dx,
      dy,
    );
  return {
    offset: offsetNumber(stock.offset),
    top: max[2],
    bottom: min[2],
    outline: { minX: min[0], minY: min[1], maxX: max[0], maxY: max[1] },
    share,
    holds: (x, y, margin) =>
      x >= min[0] - margin && y >= min[1] - margin && x <= max[0] + margin && y <= max[1] + margin,
  };
};

const cylinderShape = (stock: Stock & { readonly shape: 'cylinder' }): StockShape => {
  const [centreX, centreY] = stock.centre;
  const radius = stock.diameter / 2;
  const share: StockShape['share'] = (x, y, dx, dy, margin) =>
    shareInCircle(x - centreX, y - centreY, dx, dy, radius + margin);
  return {
    offset: offsetNumber(stock.offset),
    top: stock.top,
    bottom: stock.bottom,
    outline: { minX: centreX - radius, minY: centreY - radius, maxX: centreX + radius, maxY: centreY + radius },
    share,
    holds: (x, y, margin) => isInCircle(x - centreX, y - centreY, radius + margin),
  };
};

const isInCircle = (x: number, y: number, radius: number): boolean => radius > 0 && x * x + y * y <= radius * radius;

/** The share of a way that lies in a circle about (0, 0): the roots of |p + t·d|² = r². */
const shareInCircle = (x: number, y: number, dx: number, dy: number, radius: number): Share => {
  const a = dx * dx + dy * dy;
  const c = x * x + y * y - radius * radius;
  if (a < 1e-24) return c <= 0 && radius > 0 ? { from: 0, to: 1 } : { from: 0, to: -1 };
  const half = x * dx + y * dy;
  const inner = half * half - a * c;
  if (!(inner > 0) || radius <= 0) return { from: 0, to: -1 };
  const root = Math.sqrt(inner);
  return { from: Math.max(0, (-half - root) / a), to: Math.min(1, (-half + root) / a) };
};
