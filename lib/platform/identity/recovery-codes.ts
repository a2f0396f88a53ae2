import { randomInt } from 'node:crypto';

const COUNT = 10;
const GROUPS = 3;
const GROUP_LENGTH = 4;
/** Without letters and figures that are read for each other. */
const LETTERS = 'abcdefghjkmnpqrstuvwxyz23456789';

/** Ten codes such as 'k7wq-m2xd-9fhr': each about 59 bits, shown once. */
export const makeRecoveryCodes = (): string[] =>
  Array.from({ length: COUNT }, () =>
    Array.from({ length: GROUPS }, () =>
      Array.from({ length: GROUP_LENGTH }, () => LETTERS[randomInt(LETTERS.length)]).join(''),
    ).join('-'),
  );

/** A code as it was shown, however it was typed; null when it cannot be one. */
export function readRecoveryCode(typed: string): string | null {
  const plain = typed.toLowerCase().replace(/[^a-z0-9]/g, '');
  if (plain.length !== GROUPS * GROUP_LENGTH) return null;
  return plain.replace(/(.{4})(?=.)/g, '$1-');
}
