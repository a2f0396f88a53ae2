import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  matchNames,
  mentionsOf,
  nameBeingTyped,
  piecesOf,
  toStored,
  toTyped,
} from '@/lib/notices/rules/mentions';

const ANA = { id: '0190a000-0000-7000-8000-00000000000a', name: 'Ana' };
const LUND = { id: '0190a000-0000-7000-8000-00000000000b', name: 'Ana Lund' };
const OSTBY = { id: '0190a000-0000-7000-8000-00000000000c', name: 'Lene Østby' };
const PEOPLE = [ANA, LUND, OSTBY];
const tag = ({ id }: { id: string }) => `@[${id}]`;

describe('names that were chosen become ids', () => {
  const cases: [says: string, typed: string, stored: string][] = [
    ['one name', 'Look, @Ana: a graft.', `Look, ${tag(ANA)}: a graft.`],
    ['the longest name wins', '@Ana Lund knows', `${tag(LUND)} knows`],
    ['a name that goes on is another', '@Analise knows', '@Analise knows'],
    ['letters beyond ASCII', '@Lene Østby!', `${tag(OSTBY)}!`],
    ['nobody chosen by that name', '@Tomas knows', '@Tomas knows'],
    ['twice', '@Ana and @Ana', `${tag(ANA)} and ${tag(ANA)}`],
    ['a name without the sign', 'Ana knows', 'Ana knows'],
    ['an address of mail', 'write to x@museum.example', 'write to x@museum.example'],
  ];
  it.each(cases)('%s', (_, typed, stored) => expect(toStored(typed, PEOPLE)).toBe(stored));

  it('and back, whatever else is in the text', () => {
    const words = fc.string({ unit: 'grapheme', maxLength: 30 }).filter((text) => !/[@[\]]/.test(text));
    fc.assert(
      fc.property(fc.array(fc.tuple(words, fc.constantFrom(...PEOPLE)), { maxLength: 5 }), (parts) => {
        const stored = parts.map(([text, person]) => `${text} ${tag(person)}.`).join('');
        expect(toStored(toTyped(stored, PEOPLE), PEOPLE)).toBe(stored);
        expect(
          piecesOf(stored)
            .map((piece) => ('words' in piece ? piece.words : `@[${piece.personId}]`))
            .join(''),
        ).toBe(stored);
      }),
    );
  });

  it('somebody who left is called so', () => expect(toTyped(tag(ANA), [])).toBe('@somebody who left'));
});

describe('who is mentioned', () => {
  it.each([
    ['each once, in order', `${tag(LUND)} ${tag(ANA)} ${tag(LUND)}`, [LUND.id, ANA.id]],
    ['what is no id is no mention', '@[everybody] @[0190a000]', []],
    ['capitals are no id of ours', `@[${ANA.id.toUpperCase()}]`, []],
  ])('%s', (_, text, ids) => expect(mentionsOf(text)).toEqual(ids));
});

describe('the name that is being typed', () => {
  const cases: [says: string, text: string, caret: number, found: ReturnType<typeof nameBeingTyped>][] = [
    ['just begun', 'see @', 5, { from: 4, beginning: '' }],
    ['at the start', '@An', 3, { from: 0, beginning: 'An' }],
    ['with a space in it', '@Ana L', 6, { from: 0, beginning: 'Ana L' }],
    ['the caret stands before it', '@Ana', 0, null],
    ['inside an address of mail', 'x@mus', 5, null],
    ['on another line', '@\nAna', 5, null],
    ['after a bracket it may begin', '(@A', 3, { from: 1, beginning: 'A' }],
    ['much later', `@Ana ${'x'.repeat(50)}`, 55, null],
  ];
  it.each(cases)('%s', (_, text, caret, found) => expect(nameBeingTyped(text, caret)).toEqual(found));

  it.each([
    ['', ['Ana', 'Ana Lund', 'Lene Østby']],
    ['an', ['Ana', 'Ana Lund']],
    ['lund', ['Ana Lund']],
    ['ØST', ['Lene Østby']],
    ['na', []],
  ])('“%s” offers %j', (beginning, names) =>
    expect(matchNames(PEOPLE, beginning).map(({ name }) => name)).toEqual(names),
  );

  it('offers no more than asked for', () => expect(matchNames(PEOPLE, '', 2)).toHaveLength(2));
});
