import { z } from 'zod';
import { say } from '@/lib/platform/words/say';
import { checkPlacement } from './rules';
import { type PreservationKind, preservationKindSchema, type Verdict } from './schema';

export const spaceRequestSchema = z
  .object({
    vialCount: z.int().min(1).max(100_000),
    boxCount: z.int().min(1).max(100),
    /** The boxes must stand in different ones of these. */
    apart: z.enum(['nowhere', 'freezer', 'room']),
    preservation: preservationKindSchema,
  })
  .refine((request) => request.boxCount <= request.vialCount, {
    message: 'There are more boxes than vials.',
    path: ['boxCount'],
  });
export type SpaceRequest = z.infer<typeof spaceRequestSchema>;

/** A box as the search sees it; free positions in the order of their names. */
export type BoxWithSpace = {
  id: string;
  pathName: string;
  freezerId: string | null;
  roomId: string | null;
  targetTemperatureC: number | null;
  allowedPreservations: readonly PreservationKind[] | null;
  freePositions: readonly number[];
};

export type SpaceProposal = {
  /** Whether the vials are shared out equally (to within one). */
  isEven: boolean;
  boxes: { boxId: string; pathName: string; positions: number[] }[];
};

const numberWords = ['one', 'two', 'three', 'four', 'five', 'six', 'seven', 'eight', 'nine', 'ten'];

/**
 * Reads "40 vials, two boxes, different freezers" (any order; boxes default to one).
 * Refused when the number of vials is missing or a part is not understood.
 */
export function parseSpaceRequest(
  text: string,
  preservation: PreservationKind,
): Verdict<SpaceRequest, 'not-understood'> {
  const refuse = (message: string) => ({ ok: false as const, reason: 'not-understood' as const, message });
  let vialCount: number | null = null;
  let boxCount = 1;
  let apart: SpaceRequest['apart'] = 'nowhere';
  for (const part of text.toLowerCase().split(/,|;|\band\b/)) {
    const words = part.trim();
    if (words === '') continue;
    const amount = /^(?:in )?([a-z]+|\d+) (vial|tube|box)(?:es|s)?$/.exec(words);
    const separate = /^(?:in )?(?:different|separate) (freezer|room)s$/.exec(words);
    if (amount) {
      const word = amount[1] ?? '';
      const count = /^\d+$/.test(word) ? Number(word) : numberWords.indexOf(word) + 1;
      if (count < 1) return refuse(say('"{words}": give the number in figures.', { words }));
      if (amount[2] === 'box') boxCount = count;
      else vialCount = count;
    } else if (separate) apart = separate[1] === 'room' ? 'room' : 'freezer';
    else
      return refuse(
        say('"{words}" was not understood. Try "40 vials, two boxes, different freezers".', { words }),
      );
  }
  if (vialCount === null) return refuse(say('Say how many vials, for example "40 vials".'));
  const parsed = spaceRequestSchema.safeParse({ vialCount, boxCount, apart, preservation });
  return parsed.success
    ? { ok: true, value: parsed.data }
    : refuse(parsed.error.issues[0]?.message ?? say('Not understood.'));
}

/**
 * Proposes boxes for a number of vials, shared out equally where possible, with the tightest boxes first so
 * that large gaps stay whole. Says how much there is where it is not enough.
 */
export function findSpace(
  request: SpaceRequest,
  boxes: readonly BoxWithSpace[],
): Verdict<SpaceProposal, 'not-enough-space'> {
  const fitting = boxes.filter(
    (box) => box.freePositions.length > 0 && checkPlacement(request.preservation, box).ok,
  );
  const groups = groupBoxes(request, fitting);
  const even = chooseEven(request, groups);
  if (even) return { ok: true, value: { isEven: true, boxes: even } };
  const uneven = chooseLargest(request, groups);
  if (uneven) return { ok: true, value: { isEven: false, boxes: uneven } };
  const free = fitting.reduce((sum, box) => sum + box.freePositions.length, 0);
  const apart =
    request.apart === 'nowhere'
      ? ''
      : request.apart === 'freezer'
        ? say(', in different freezers')
        : say(', in different rooms');
  return {
    ok: false,
    reason: 'not-enough-space',
    message:
      say('There is no room for {vialCount} vials in {boxCount} ', {
        vialCount: request.vialCount,
        boxCount: request.boxCount,
      }) +
      say('{x}{apart}: suitable boxes have {free} free positions ', {
        x: request.boxCount === 1 ? say('box') : say('boxes'),
        apart,
        free,
      }) +
      say('in {length} {x}.', {
        length: fitting.length,
        x: fitting.length === 1 ? say('box') : say('boxes'),
      }),
  };
}

/** One group a freezer or room; each box its own group if they need not be apart. Smallest box first. */
function groupBoxes(request: SpaceRequest, boxes: BoxWithSpace[]): BoxWithSpace[][] {
  const groups = new Map<string, BoxWithSpace[]>();
  for (const box of boxes) {
    const key =
      request.apart === 'nowhere' ? box.id : request.apart === 'freezer' ? box.freezerId : box.roomId;
    // A box whose freezer is not known cannot be shown to stand apart.
    if (key !== null) groups.set(key, [...(groups.get(key) ?? []), box]);
  }
  const bySpace = (a: BoxWithSpace, b: BoxWithSpace) =>
    a.freePositions.length - b.freePositions.length || a.pathName.localeCompare(b.pathName);
  return [...groups.values()].map((group) => group.sort(bySpace));
}

const fill = (box: BoxWithSpace, count: number) => ({
  boxId: box.id,
  pathName: box.pathName,
  positions: box.freePositions.slice(0, count),
});

function chooseEven({ vialCount, boxCount }: SpaceRequest, groups: BoxWithSpace[][]) {
  const small = Math.floor(vialCount / boxCount);
  const largeCount = vialCount % boxCount;
  const tightest = (group: BoxWithSpace[], count: number) =>
    group.find((box) => box.freePositions.length >= count);
  const options = groups
    .map((group) => ({ small: tightest(group, small), large: tightest(group, small + 1) }))
    .filter((option) => option.small !== undefined);
  // Groups that can only take the smaller share take it first; the others serve both.
  const space = (box: BoxWithSpace | undefined) => box?.freePositions.length ?? 0;
  const smallOnly = options.filter((o) => !o.large).sort((a, b) => space(a.small) - space(b.small));
  const both = options.filter((o) => o.large).sort((a, b) => space(a.large) - space(b.large));
  if (both.length < largeCount) return null;
  const large = both.slice(0, largeCount).flatMap((o) => (o.large ? [fill(o.large, small + 1)] : []));
  const rest = [...both.slice(largeCount), ...smallOnly]
    .sort((a, b) => space(a.small) - space(b.small))
    .slice(0, boxCount - largeCount)
    .flatMap((o) => (o.small ? [fill(o.small, small)] : []));
  return large.length + rest.length === boxCount ? [...large, ...rest] : null;
}

function chooseLargest({ vialCount, boxCount }: SpaceRequest, groups: BoxWithSpace[][]) {
  const largest = groups
    .flatMap((group) => group.slice(-1))
    .sort((a, b) => b.freePositions.length - a.freePositions.length || a.pathName.localeCompare(b.pathName))
    .slice(0, boxCount);
  if (largest.length < boxCount) return null;
  let rest = vialCount;
  const filled = largest.map((box, index) => {
    // Each later box keeps at least one vial, so that the number of boxes asked for is the number used.
    const count = Math.min(box.freePositions.length, rest - (boxCount - 1 - index));
    rest -= count;
    return fill(box, count);
  });
  return rest === 0 ? filled : null;
}
