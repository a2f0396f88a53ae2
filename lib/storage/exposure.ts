import { say } from '@/lib/platform/words/say';
import type { Excursion } from './excursions';
import type { PreservationKind } from './schema';

/** One stay of a material in a freezer; `untilAt` null: still there. */
export type Stay = {
  materialId: string;
  freezerId: string;
  preservation: PreservationKind;
  fromAt: string;
  untilAt: string | null;
  thawCount: number;
};

export type Exposure = {
  materialId: string;
  freezerId: string;
  /** Time in the excursion, in minutes, as far as the material was there. */
  minutes: number;
  peakC: number;
  /** The record of the excursion breaks off: it may have been longer. */
  isOpenEnded: boolean;
  /** Whether it may have thawed, with the reason in words; a person decides. */
  proposal: { thawCount: number; isThawProposed: boolean; reason: string };
};

/** Settings of the institution; the defaults are common practice, no source. */
export type ThawSettings = { thawAboveC: number; thawAfterMinutes: number };
export const defaultThawSettings: ThawSettings = { thawAboveC: -5, thawAfterMinutes: 30 };

const frozenKinds: readonly PreservationKind[] = ['frozen', 'liquid-nitrogen'];

/**
 * The materials that were in a freezer during an excursion, longest exposed first, with a proposed new thaw
 * count. The air warmed, not necessarily the tissue: the proposal is the cautious reading.
 */
export function listExposures(
  excursionsByFreezer: ReadonlyMap<string, readonly Excursion[]>,
  stays: Iterable<Stay>,
  settings: ThawSettings = defaultThawSettings,
): Exposure[] {
  const exposures: Exposure[] = [];
  // Two excursions of one material propose two thaws, so the count runs along.
  const thawCounts = new Map<string, number>();
  for (const stay of stays) {
    for (const excursion of excursionsByFreezer.get(stay.freezerId) ?? []) {
      const fromMs = Math.max(Date.parse(stay.fromAt), Date.parse(excursion.fromAt));
      const untilMs = Math.min(
        stay.untilAt === null ? Number.POSITIVE_INFINITY : Date.parse(stay.untilAt),
        Date.parse(excursion.toAt),
      );
      // A single reading above has no length, but it happened.
      if (untilMs < fromMs) continue;
      const minutes = (untilMs - fromMs) / 60_000;
      const before = thawCounts.get(stay.materialId) ?? stay.thawCount;
      const proposal = proposeThawCount(stay.preservation, before, minutes, excursion, settings);
      thawCounts.set(stay.materialId, proposal.thawCount);
      const { peakC, isOpenEnded } = excursion;
      exposures.push({
        materialId: stay.materialId,
        freezerId: stay.freezerId,
        minutes,
        peakC,
        isOpenEnded,
        proposal,
      });
    }
  }
  return exposures.sort((a, b) => b.minutes - a.minutes || a.materialId.localeCompare(b.materialId));
}

function proposeThawCount(
  preservation: PreservationKind,
  thawCount: number,
  minutes: number,
  excursion: Excursion,
  settings: ThawSettings,
): Exposure['proposal'] {
  const keep = (reason: string) => ({ thawCount, isThawProposed: false, reason });
  const spell = say('{round} min, at most {peakC} °C', {
    round: Math.round(minutes),
    peakC: excursion.peakC.toFixed(1),
  });
  if (!frozenKinds.includes(preservation))
    return keep(say('{spell}; it is not kept by freezing.', { spell }));
  if (excursion.peakC <= settings.thawAboveC) {
    return keep(
      say('{spell}; it stayed at {thawAboveC} °C or colder.', { spell, thawAboveC: settings.thawAboveC }),
    );
  }
  if (minutes < settings.thawAfterMinutes && !excursion.isOpenEnded) {
    return keep(
      say('{spell}; shorter than {thawAfterMinutes} min.', {
        spell,
        thawAfterMinutes: settings.thawAfterMinutes,
      }),
    );
  }
  const open = excursion.isOpenEnded ? say(', and the log breaks off before it was cold again') : '';
  return {
    thawCount: thawCount + 1,
    isThawProposed: true,
    reason: say('{spell}{open}; counted as a thaw.', { spell, open }),
  };
}
