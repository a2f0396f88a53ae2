import { describe, expect, it } from 'vitest';
import { collectTexts } from '@/lib/ops/collect-words';
import { projectRoot } from '@/lib/ops/project';
import es from '@/lib/platform/words/es.json';

const texts = collectTexts(projectRoot);
const catalogue: Record<string, string> = es;
const placeholders = (text: string) => [...text.matchAll(/\{\w+\}/g)].map(([whole]) => whole).sort();
const withoutNote = (text: string) => text.replace(/\|[a-z -]+$/, '');

describe('the Spanish catalogue', () => {
  it('has every text that the source says; `npm run words` adds what is new', () => {
    const missing = texts.filter(({ text }) => !catalogue[text]);
    expect(missing).toEqual([]);
  });

  it('has no text that nothing says', () => {
    const said = new Set(texts.map(({ text }) => text));
    expect(Object.keys(catalogue).filter((text) => !said.has(text))).toEqual([]);
  });

  it('keeps the names of values', () => {
    const torn = Object.entries(catalogue).filter(
      ([text, translation]) => placeholders(text).join() !== placeholders(translation).join(),
    );
    expect(torn).toEqual([]);
  });

  it('keeps the spaces at which pieces are joined', () => {
    const ends = (text: string) => [/^\s/.test(text), /\s$/.test(text)].join();
    const torn = Object.entries(catalogue).filter(
      ([text, translation]) => ends(withoutNote(text)) !== ends(translation),
    );
    expect(torn).toEqual([]);
  });
});

describe('the collector', () => {
  it('finds what the screens say, in each of the ways it can stand in the source', () => {
    const said = new Set(texts.map(({ text }) => text));
    // Of say, titled, countOf, phrases, a schema's message and a list of words.
    for (const text of [
      'Take this bird',
      'Queue',
      '{n} birds',
      'Light|theme',
      'Say why it is changed.',
      'In freezer',
    ])
      expect(said, text).toContain(text);
  });
});
