import type { Role } from '@/lib/platform/permissions';

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
  if (input.own) return 'You cannot take your own administration away; another administrator can.';
  return input.otherAdministrators === 0 ? 'The collection would have no administrator left.' : null;
}

/** The first passwords anybody tries (from memory of the usual published lists), with the name of this program. */
const GUESSED_FIRST = new Set([
  'password1234',
  'passwordpassword',
  'password12345',
  '123456789012',
  '1234567890123',
  'qwertyuiop12',
  'qwertyqwerty',
  'iloveyou1234',
  'administrator',
  'letmeinplease',
  'welcome12345',
  'furculafurcula',
]);

/** Why a password is refused; null when it is good enough. */
export function passwordProblem(password: string, known: { email: string; name: string }): string | null {
  const plain = password.toLowerCase();
  if (GUESSED_FIRST.has(plain) || /^(.)\1+$/.test(plain))
    return 'This password is among the first that anybody tries.';
  const [account = ''] = known.email.toLowerCase().split('@');
  if (plain.includes(account) && account.length > 3) return 'The password contains your e-mail name.';
  return null;
}
