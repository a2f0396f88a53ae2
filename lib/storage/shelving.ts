import { say } from '@/lib/platform/words/say';
import type { PestFreezeVerdict } from './pest-freeze';

/** What is known of a material when it is put on the shelf at the end of its process. */
export interface ShelvingFacts {
  label: string;
  hasPlace: boolean;
  pestFreeze: PestFreezeVerdict;
  /** Anything else that is not as it should be, a sentence each. */
  remarks: readonly string[];
  note: string | null;
}

/** What is wrong, and the field of the request that would put it right. */
export interface ShelvingProblem {
  path: 'place' | 'note';
  message: string;
}

/**
 * Why it cannot be shelved as asked; null when it can. It must have a place. What else is wanting does not stop it, but has
 * to be explained in the note, so that the truth can always be written down.
 */
export function shelvingProblem({
  label,
  hasPlace,
  pestFreeze,
  remarks,
  note,
}: ShelvingFacts): ShelvingProblem | null {
  if (!hasPlace) return { path: 'place', message: say('{label}: say where it is put.', { label }) };
  const wanting = [...(pestFreeze.enough ? [] : [pestFreeze.reason]), ...remarks];
  if (wanting.length === 0 || (note ?? '').trim() !== '') return null;
  return {
    path: 'note',
    message: say('{label}: {wanting} Say in the note why it is shelved all the same.', {
      label,
      wanting: wanting.join(' '),
    }),
  };
}
