import type { Role } from '@/lib/platform/permissions';
import { say } from '@/lib/platform/words/say';

/** Why a person's data cannot be erased; null when they can. */
export function erasureProblem(input: { erased: boolean; own: boolean; elsewhere: boolean }): string | null {
  if (input.erased) return say('The data of this person were erased already.');
  if (input.own) return say('You cannot erase your own account; another administrator can.');
  return input.elsewhere
    ? say(
        'This person has roles in another collection too: whoever runs the installation must end those first.',
      )
    : null;
}

/**
 * Why an administrator may not make this change; null when they may. A collection keeps an active administrator, and
 * nobody takes their own administration away by a slip.
 */
export function rolesProblem(input: {
  own: boolean;
  before: readonly Role[];
  after: readonly Role[];
  otherAdministrators: number;
}): string | null {
  const loses = input.before.includes('administrator') && !input.after.includes('administrator');
  if (!loses) return null;
  if (input.own) return say('You cannot take your own administration away; another administrator can.');
  return input.otherAdministrators === 0 ? say('The collection would have no administrator left.') : null;
}
