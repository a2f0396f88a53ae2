import type { PreservationKind } from './schema';

/** What has to be known of a material to say how it must be kept. */
export type KeptMaterial = { kind: string; state: string | null; preservation: string | null };

const byKind: Record<string, PreservationKind> = {
  skin: 'dry',
  skeleton: 'dry',
  wing: 'dry',
  'flat-skin': 'dry',
  fluid: 'ethanol',
};

/**
 * How a material is kept; null where no place is wrong for it: a carcass may wait in a refrigerator, and anything
 * dry goes through the freezer against pests.
 */
export function preservationOf({ kind, state, preservation }: KeptMaterial): PreservationKind | null {
  if (kind === 'vial') return preservation as PreservationKind | null;
  return state === 'pest-freeze' ? null : (byKind[kind] ?? null);
}

/** A few letters for the cap or the drawing: the suffix, and of a vial its first tissue. */
export function markOf(suffix: string, tissues: readonly string[]): string {
  const first = tissues[0]?.charAt(0).toUpperCase();
  return [suffix, first].filter(Boolean).join(' ');
}

/** State of a vial that turned up again, by whether anything had been taken from it. */
export const vialStateWhenFound = (wasTakenFrom: boolean): 'stored' | 'partly-used' =>
  wasTakenFrom ? 'partly-used' : 'stored';
