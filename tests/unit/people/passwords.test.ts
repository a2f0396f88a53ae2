import { dictionary } from '@zxcvbn-ts/language-common';
import { describe, expect, it } from 'vitest';
import { passwordProblem } from '@/lib/people/passwords';
import { MIN_PASSWORD } from '@/lib/people/schema';

/** After NIST SP 800-63B (from memory): commonly used, expected and compromised passwords are refused, nothing else. */
const OWNER = {
  email: 'r.okafor@harbourmuseum.example',
  name: 'Rosa Okafor',
  institution: 'Harbour Museum of Birds',
};
const problem = (password: string) => passwordProblem(password, OWNER);

describe('passwords that everybody knows', () => {
  it('each of the list that is long enough to be chosen is refused', () => {
    const long = dictionary['passwords-common'].filter((entry) => entry.length >= MIN_PASSWORD);
    expect(long.length).toBeGreaterThan(250);
    expect(long.filter((entry) => problem(entry) === null)).toEqual([]);
  });

  it.each([
    ['in capitals', 'Administrator'],
    ['with figures after it', 'password2026!!'],
    ['with signs around it', '!!sunshine!!123'],
    ['with letters written as figures', 'p@$$w0rd1234'],
    ['twice', 'monkeymonkey'],
    ['of the name of a bird of prey and a year', 'falcon201999'],
  ])('one of the list %s', (_, password) => expect(problem(password)).toContain('first that anybody tries'));

  it.each([
    ['the e-mail name', 'my-r.okafor-words', 'your e-mail name'],
    ['the name', 'rosa-okafor-1234', 'little more than a name'],
    ['the institution', 'HarbourMuseum2026', 'little more than a name'],
    ['the program', 'furcula furcula 1', 'little more than a name'],
    ['a run', 'lkjhgfdsa-zxcvbnm', 'run of the keyboard'],
    ['a run backwards', '0987654321poiuytrewq', 'run of the keyboard'],
    ['columns of the keyboard', '3edc4rfv5tgb6yhn', 'run of the keyboard'],
    ['a run in German order', 'yxcvbnm-qwertzu', 'run of the keyboard'],
    ['the alphabet', 'abcdefghijklmnop', 'run of the keyboard'],
    ['one sign', 'zzzzzzzzzzzzzzzz', 'run of the keyboard'],
    ['a repetition', 'kiwukiwukiwukiwu', 'run of the keyboard'],
    ['years', '1987 1988 1989 2026', 'run of the keyboard'],
  ])('%s', (_, password, words) => expect(problem(password)).toContain(words));
});

it.each([
  'four words that fit together',
  'the museum roof leaks again',
  'rosa sings under a cold bridge',
  'vK4#qn8$Lz2!',
  'kelp 1987 lantern bus',
  'powerful witty ferns',
  '雨の日に鳥が鳴いている窓',
  '83920174650918',
])('%s is taken', (password) => expect(problem(password)).toBeNull());

it('a short e-mail name or name forbids nothing', () => {
  const owner = { email: 'an@a.example', name: 'An Li', institution: 'Lab' };
  expect(passwordProblem('an ant lives behind lamps', owner)).toBeNull();
});
