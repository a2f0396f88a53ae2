import type { Actor } from '@/lib/platform/actor';
import { db } from '@/lib/platform/db';
import { type Lab, makeLab } from '@/tests/integration/salvage/build';

export type { Lab };

/** One valid request: who sends it, the parts of its address, and its body. */
export type Example = { as: Actor; params?: Record<string, string>; body: unknown };

/** By method and folder, as 'POST api/loans/[id]/grant'; each makes the record it needs, so that none waits for another. */
export type Examples = Record<string, (lab: Lab) => Promise<Example>>;

/** A lab of one institution in one country; its preparator's records are numbered apart from those the factories make. */
export async function openLab(): Promise<Lab> {
  const lab = await makeLab();
  const name = 'Nadia Quist';
  await db().person.update({ where: { id: idOf(lab.as.preparator) }, data: { name } });
  lab.as.preparator = { ...lab.as.preparator, name };
  await db().collection.update({ where: { id: lab.collectionId }, data: { settings: { country: 'US' } } });
  return lab;
}

/** What an example needs must be there. */
export function need<T>(value: T | null | undefined, what: string): T {
  if (value === null || value === undefined) throw new Error(`The example has no ${what}.`);
  return value;
}

export const idOf = (actor: Actor): string => need(actor.personId, 'person');

export const dayFromNow = (days: number): string =>
  new Date(Date.now() + days * 86_400_000).toISOString().slice(0, 10);
