import type { SizeClass } from '@/lib/queue/schema';
import { signSkill } from '@/lib/queue/skills';
import { contextOf, type Stage } from './foundation';

const STYLES = ['skin-with-partial-skeleton', 'whole-skeleton', 'spread-wing-with-skin'] as const;
const SIZES: readonly SizeClass[] = ['tiny', 'small', 'medium', 'large'];

/** What the preparator signed off for the volunteers: one works alone, one beside a supervisor, one learns. */
export async function signSkills(stage: Stage): Promise<void> {
  const { preparator, curator, volunteer, volunteer2, volunteer3, learner } = stage.people;
  if (!preparator?.personId || !curator) throw new Error('The demo has no preparator or curator.');
  const sign = (
    personId: string | null | undefined,
    by: typeof curator,
    level: 'alone' | 'supervised' | 'training',
    sizes: readonly SizeClass[],
  ) =>
    STYLES.flatMap((style) =>
      sizes.map((sizeClass) => ({ personId: personId ?? '', by, style, sizeClass, level })),
    );
  const wanted = [
    ...sign(preparator.personId, curator, 'alone', SIZES),
    ...sign(volunteer?.personId, preparator, 'alone', SIZES),
    ...sign(volunteer2?.personId, preparator, 'supervised', ['tiny', 'small', 'medium']),
    ...sign(volunteer3?.personId, preparator, 'alone', ['tiny', 'small']),
    ...sign(learner?.personId, preparator, 'training', ['small']),
  ];
  for (const { by, ...change } of wanted) await signSkill(contextOf(by), change);
}
