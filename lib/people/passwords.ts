import { dictionary } from '@zxcvbn-ts/language-common';
import { say } from '@/lib/platform/words/say';

/**
 * NIST SP 800-63B (from memory): a password that is set or changed is compared with those that are commonly used,
 * expected or compromised (lists from breaches, repetitions and sequences, the name of the service and of the user),
 * the person is told why and chooses another; no rule asks for kinds of letters.
 *
 * The list is the 49,233 most used ones of @zxcvbn-ts/language-common 4.1.3 (MIT), which the package ships as data.
 */
let list: Set<string> | undefined;
const isCommon = (word: string): boolean => {
  list ??= new Set(dictionary['passwords-common'].map((entry) => entry.toLowerCase()));
  return list.has(word);
};

const ROWS = ['1234567890', 'qwertyuiop', 'asdfghjkl', 'zxcvbnm', 'qwertzuiop', 'yxcvbnm', 'azertyuiop'];
/** The columns of a keyboard read downwards, one after the other. */
const COLUMNS = '1qaz2wsx3edc4rfv5tgb6yhn7ujm8ik';
const SEQUENCES = [...ROWS, COLUMNS, 'abcdefghijklmnopqrstuvwxyz', '0123456789'].flatMap((row) => [
  row,
  [...row].reverse().join(''),
]);
const RUN_LENGTH = 4;
/** So many different letters and figures are left of a password when what anybody can guess of it is taken away. */
const MIN_OWN = 6;
const SERVICE = 'furcula';
const READ_AS: Record<string, string> = {
  '@': 'a',
  $: 's',
  '0': 'o',
  '1': 'i',
  '3': 'e',
  '5': 's',
  '7': 't',
};

export type PasswordOwner = { email: string; name: string; institution: string };

/** Why a password is refused and what to do; null when it is good enough. Pure. */
export function passwordProblem(password: string, owner: PasswordOwner): string | null {
  const plain = password.normalize('NFKC').toLowerCase();
  if (isWellKnown(plain))
    return say(
      'This password is among the first that anybody tries, or is one with a few figures added. Take a few words that do not belong together.',
    );
  const [account = ''] = owner.email.toLowerCase().split('@');
  if (account.length >= RUN_LENGTH && plain.includes(account))
    return say('The password contains your e-mail name. Take words that have nothing to do with you.');
  const without = ownWordsOf(owner).reduce((left, word) => left.replaceAll(word, ' '), plain);
  if (without !== plain && ownSigns(withoutPatterns(without)) < MIN_OWN)
    return say(
      'The password is little more than a name: yours, the institution’s or this program’s. Take words that have nothing to do with you.',
    );
  if (ownSigns(withoutPatterns(plain)) < MIN_OWN)
    return say(
      'The password is little more than a run of the keyboard, a repetition or a year. Take a few words that do not belong together.',
    );
  return null;
}

/** In the list as it is, twice over, with letters written as figures, or with figures and signs around it. */
function isWellKnown(plain: string): boolean {
  const unit = /^(.+?)\1+$/u.exec(plain)?.[1] ?? plain;
  return [unit, plain].some((form) => {
    const core = form.replace(/^[^\p{L}]+|[^\p{L}]+$/gu, '');
    return [form, core].some(
      (word) => word.length >= RUN_LENGTH && (isCommon(word) || isCommon(readFigures(word))),
    );
  });
}

const readFigures = (word: string): string => word.replace(/[@$01357]/g, (sign) => READ_AS[sign] ?? sign);

/** Longest first, so that no rest of a longer word stays. */
const ownWordsOf = ({ email, name, institution }: PasswordOwner): string[] =>
  [SERVICE, ...`${email} ${name} ${institution}`.toLowerCase().split(/[^\p{L}\p{N}]+/u)]
    .filter((word) => word.length >= RUN_LENGTH)
    .sort((a, b) => b.length - a.length);

const ownSigns = (text: string): number => new Set(text.replace(/[^\p{L}\p{N}]+/gu, '')).size;

function withoutPatterns(plain: string): string {
  const unit = /^(.+?)\1+$/u.exec(plain)?.[1] ?? plain;
  let left = '';
  for (let at = 0; at < unit.length; ) {
    const run = Math.max(runAt(unit, at), repeatAt(unit, at));
    if (run === 0) left += unit[at];
    at += Math.max(run, 1);
  }
  return left.replace(/(19|20)\d\d/g, '');
}

/** Length of the longest part from here that a sequence holds; 0 when it is shorter than a run. */
function runAt(text: string, at: number): number {
  let length = 0;
  while (at + length < text.length && SEQUENCES.some((row) => row.includes(text.slice(at, at + length + 1))))
    length += 1;
  return length >= RUN_LENGTH ? length : 0;
}

/** Length of one sign repeated from here; 0 when it is no repetition. */
function repeatAt(text: string, at: number): number {
  let length = 1;
  while (text[at + length] === text[at]) length += 1;
  return length >= RUN_LENGTH ? length : 0;
}
