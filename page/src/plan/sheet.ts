/** Where everything of the plan lies on the sheet, in px. The deck is drawn to one scale along and
 *  across, and turned by whole quarters only, never mirrored: along a wide sheet with end 1 on the
 *  left and the deck's left side on top, or up a narrow one with end 1 below, as who stands at end 1
 *  sees it. `turned` is the same from end 2.
 *
 *  Figures stand beside the deck in a block for every stand; blocks that would overlap are pushed
 *  apart along the deck and keep a thin line to their stand. */
import type { DeckPlan, PlanStand } from '../api/types';

export interface Point {
  x: number;
  y: number;
}

export interface Rect extends Point {
  width: number;
  height: number;
}

export interface PlacedStand {
  stand: PlanStand;
  at: Point;
  /** -1: above or left of the deck; 1: below or right of it. */
  side: -1 | 1;
  /** Middle of its block, along the deck, px. */
  block: number;
}

export interface Sheet {
  width: number;
  height: number;
  /** The deck runs along the sheet; else up it. */
  along: boolean;
  px_per_m: number;
  deck: Rect;
  stands: PlacedStand[];
  /** Length of a block along the deck, px. */
  block: number;
  /** Longest bar, px. */
  bar_most: number;
  /** x or y of the dimension line. */
  dimension_at: number;
  at: (x_m: number, y_m: number) => Point;
}

export interface SheetWish {
  /** Width there is, px. */
  width: number;
  /** Size of the text, px. */
  em: number;
  turned: boolean;
}

// With the switch above it a deck on four sections fits a phone held upright; more need more room.
const kMostTall_px = [480, 620] as const;
const kSection_px = 95;

export const kBarThick = 9;
export const kThenThick = 5;
/** From the edge of the deck to the foot of a bar. */
export const kFoot = 7;

/** Pushes equal blocks apart, as little as may be, order kept (pool adjacent violators). */
export function spread(wanted: number[], size: number): number[] {
  interface Pool {
    sum: number; // of wanted less the place in the row
    count: number;
  }
  const pools: Pool[] = [];
  wanted.forEach((place, i) => {
    pools.push({ sum: place - i * size, count: 1 });
    for (;;) {
      const last = pools[pools.length - 1];
      const before = pools[pools.length - 2];
      if (!last || !before || before.sum / before.count <= last.sum / last.count) break;
      before.sum += last.sum;
      before.count += last.count;
      pools.pop();
    }
  });
  const middles = pools.flatMap((pool) => Array<number>(pool.count).fill(pool.sum / pool.count));
  return middles.map((middle, i) => middle + i * size);
}

function place_stands(
  plan: DeckPlan,
  at: (x_m: number, y_m: number) => Point,
  along: boolean,
  block: number,
): PlacedStand[] {
  const middle = at(0, 0);
  const placed = plan.stands.map((stand): PlacedStand => {
    const point = at(stand.x_m, stand.y_m);
    const outward = along ? point.y - middle.y : point.x - middle.x;
    return { stand, at: point, side: outward < 0 ? -1 : 1, block: along ? point.x : point.y };
  });
  for (const side of [-1, 1]) {
    const row = placed.filter((p) => p.side === side).sort((a, b) => a.block - b.block);
    const places = spread(row.map((p) => p.block), block);
    row.forEach((p, i) => (p.block = places[i] ?? p.block));
  }
  return placed;
}

function most_a_side(plan: DeckPlan): number {
  const left = plan.stands.filter((stand) => stand.y_m > 0).length;
  return Math.max(left, plan.stands.length - left, 1);
}

function sheet_along(plan: DeckPlan, { width, em, turned }: SheetWish): Sheet {
  const margin = 3.3 * em; // "end 1" stands there
  const block = 5.1 * em;
  const bar_most = 5 * em;
  const rows = 3.1 * em;
  const beside = kFoot + bar_most + 0.5 * em + rows;
  const px_per_m = Math.min((width - 2 * margin) / plan.length_m, (9 * em) / plan.width_m);
  const deck = {
    x: (width - plan.length_m * px_per_m) / 2,
    y: beside,
    width: plan.length_m * px_per_m,
    height: plan.width_m * px_per_m,
  };
  const flip = turned ? -1 : 1;
  const at = (x_m: number, y_m: number): Point => ({
    x: deck.x + (turned ? plan.length_m - x_m : x_m) * px_per_m,
    y: deck.y + deck.height / 2 - flip * y_m * px_per_m,
  });
  const dimension_at = deck.y + deck.height + beside + 1.5 * em;
  return {
    width,
    height: dimension_at + 0.6 * em,
    along: true,
    px_per_m,
    deck,
    block,
    bar_most,
    dimension_at,
    at,
    stands: place_stands(plan, at, true, block),
  };
}

function sheet_up(plan: DeckPlan, { width, em, turned }: SheetWish): Sheet {
  const dimensions = 1.6 * em;
  const least = 2.4 * em; // of the deck itself
  const beside = Math.min(5.7 * em, (width - dimensions - least) / 2);
  const block = 2.9 * em + 1.8 * kBarThick;
  const widest = Math.max(width - dimensions - 2 * beside, least);
  const tall = Math.min(kMostTall_px[1], Math.max(kMostTall_px[0], most_a_side(plan) * kSection_px));
  const px_per_m = Math.min(widest / plan.width_m, tall / plan.length_m);
  const deck_height = plan.length_m * px_per_m;
  const blocks = most_a_side(plan) * block;
  const over = Math.max(0, (blocks - deck_height) / 2); // blocks that reach beyond the deck
  const top = over + 2.2 * em; // the word of the end, the name of the last stand
  const deck_width = plan.width_m * px_per_m;
  const deck = {
    x: (width - dimensions - deck_width) / 2,
    y: top,
    width: deck_width,
    height: deck_height,
  };
  const flip = turned ? -1 : 1;
  const at = (x_m: number, y_m: number): Point => ({
    x: deck.x + deck.width / 2 - flip * y_m * px_per_m,
    y: deck.y + (turned ? x_m : plan.length_m - x_m) * px_per_m,
  });
  return {
    width,
    height: deck.y + deck.height + over + 3.3 * em,
    along: false,
    px_per_m,
    deck,
    block,
    bar_most: Math.min(beside - kFoot - 6, 6 * em),
    dimension_at: width - 0.55 * em,
    at,
    stands: place_stands(plan, at, false, block),
  };
}

export function lay_out(plan: DeckPlan, wish: SheetWish): Sheet {
  const needed = (most_a_side(plan) * 5.1 + 6.6) * wish.em;
  const along = wish.width >= Math.max(needed, 560);
  return along ? sheet_along(plan, wish) : sheet_up(plan, wish);
}

/** A rectangle beside the deck, from `from` to `to` outward of its edge, `thick` along the deck. */
export function outward(
  sheet: Sheet,
  side: -1 | 1,
  middle: number,
  from: number,
  to: number,
  thick: number,
): Rect {
  const { deck, along } = sheet;
  const edge = along
    ? side < 0
      ? deck.y
      : deck.y + deck.height
    : side < 0
      ? deck.x
      : deck.x + deck.width;
  const a = edge + side * (kFoot + from);
  const b = edge + side * (kFoot + to);
  const low = Math.min(a, b);
  const size = Math.abs(b - a);
  return along
    ? { x: middle - thick / 2, y: low, width: thick, height: size }
    : { x: low, y: middle - thick / 2, width: size, height: thick };
}

export function points(rect: Rect): string {
  return `M${rect.x} ${rect.y}h${rect.width}v${rect.height}h${-rect.width}z`;
}

/** The stand that lies nearest in a direction of the screen; undefined: none lies there. */
export function neighbour(
  stands: PlacedStand[],
  from: PlacedStand,
  way: Point,
): PlacedStand | undefined {
  let best: PlacedStand | undefined;
  let least = Infinity;
  for (const other of stands) {
    if (other === from) continue;
    const dx = other.at.x - from.at.x;
    const dy = other.at.y - from.at.y;
    const ahead = dx * way.x + dy * way.y;
    const aside = Math.abs(dx * way.y - dy * way.x);
    if (ahead <= 1 || aside > 2 * ahead) continue;
    const far = ahead + 2 * aside;
    if (far < least) {
      least = far;
      best = other;
    }
  }
  return best;
}
