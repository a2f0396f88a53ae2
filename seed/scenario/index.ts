import { pinClock } from '@/lib/platform/clock';
import { closeDb } from '@/lib/platform/db';
import { DEMO_PASSWORD, DEMO_PEOPLE } from '@/lib/platform/identity/demo';
import { foundMuseum, type Stage } from './foundation';
import { labActs } from './lab';
import { layDownTheLaw } from './law';
import { playBird } from './play';
import { signSkills } from './skills';
import { makeStories } from './stories';
import { readOldNotices, talkActs, tellEverybody } from './talk';

/** Printed at the start and offered on the sign-in page. */
export const demoSignIns = DEMO_PEOPLE.map(({ email, roles }) => ({
  role: roles[0] ?? '',
  email,
  password: DEMO_PASSWORD,
}));

const OPENING_DAY = new Date('2024-01-02T14:00:00Z');

/** Plays three years of an invented lab through the platform's own commands, in the order of time. */
export async function loadScenario(databaseUrl: string): Promise<void> {
  try {
    pinClock(OPENING_DAY);
    const stage = await foundMuseum();
    await layDownTheLaw(personOf(stage, 'officer'));
    await signSkills(stage);
    const acts = [
      ...makeStories().flatMap((story) => playBird(stage, story)),
      ...labActs(stage),
      ...talkActs(stage),
    ].sort((a, b) => a.at.localeCompare(b.at));
    for (const [index, act] of acts.entries()) {
      pinClock(new Date(act.at));
      await act.run();
      // In the evening everybody is told what the day brought.
      if (acts[index + 1]?.at.slice(0, 10) !== act.at.slice(0, 10)) await tellEverybody(databaseUrl);
    }
    await readOldNotices(stage);
  } finally {
    pinClock(null);
    await closeDb();
  }
}

function personOf(stage: Stage, key: string) {
  const person = stage.people[key];
  if (person === undefined) throw new Error(`The demo has nobody called ${key}.`);
  return person;
}
