'use client';

import { MoveOnForm, type MoveTarget } from '@/components/materials/move-on-form';
import { countOf, phrases, say, sayWord } from '@/lib/platform/words/say';
import { SKIN_TRANSITIONS, usualNext } from '@/lib/skins/rules';
import type { SkinState } from '@/lib/skins/schema';
import { useAdvanceSkins } from './queries';

/** One skin as far as moving it on needs it. */
export type MovableSkin = { id: string; state: string; step: { id: string } | null };

const CAUTIONS: Partial<Record<SkinState, readonly string[]>> = phrases({
  'pest-freeze': [
    'Seal in a bag before freezing and let it reach room temperature before opening: condensation ruins feathers.',
  ],
});

function targetsOf(state: SkinState): MoveTarget[] {
  const usual = usualNext(state);
  const allowed = SKIN_TRANSITIONS[state];
  return [...allowed]
    .sort((a, b) => Number(b === usual) - Number(a === usual))
    .map((to) => ({
      value: to,
      label:
        to === usual || usual === null
          ? sayWord(to)
          : say('Back to {word}', { word: sayWord(to).toLowerCase() }),
      freezes: to === 'pest-freeze',
      shelves: to === 'shelved',
      cautions: CAUTIONS[to],
    }));
}

/** What can be done with skins that are in one state. */
export function SkinActs({
  skins,
  today,
  onDone,
}: {
  skins: readonly MovableSkin[];
  today: string;
  onDone?: () => void;
}) {
  const advance = useAdvanceSkins();
  const state = skins[0]?.state as SkinState | undefined;
  if (state === undefined) return null;
  return (
    <MoveOnForm
      ids={skins.map(({ id }) => id)}
      targets={targetsOf(state)}
      today={today}
      legend={say('Move on')}
      act={skins.length === 1 ? say('Move on') : say('Move {of} on', { of: countOf(skins.length, 'skin') })}
      busy={advance.isPending}
      error={advance.error}
      onMove={({ to, ...details }) =>
        advance.mutate(
          {
            ...details,
            to: to as SkinState,
            chosen: skins.map(({ id, step }) => ({ materialId: id, stepId: step?.id ?? null })),
          },
          { onSuccess: onDone },
        )
      }
    />
  );
}
