import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { inLanguage } from '@/lib/platform/words/ambient-server';
import { keepCatalogue } from '@/lib/platform/words/catalogues';
import { chooseLanguage, type Language } from '@/lib/platform/words/languages';
import { phrases, say } from '@/lib/platform/words/say';

// As the server resolves it; without a server's condition the page's own would be taken.
vi.mock('#ambient-language', () => import('@/lib/platform/words/ambient-server'));

describe('say', () => {
  beforeEach(() =>
    keepCatalogue('es', {
      'Take {bird}': 'Tomar {bird}',
      Queue: 'Cola',
      'Open|verb': 'Abrir',
      'Open|state': 'Abierto',
    }),
  );
  afterEach(() => keepCatalogue('es', {}));

  it('speaks English where nothing else was asked for', () => {
    expect(say('Take {bird}', { bird: 'S-1' })).toBe('Take S-1');
  });

  it('speaks the language of the work, across waiting, and only there', async () => {
    const said = await inLanguage('es', async () => {
      await Promise.resolve();
      return say('Take {bird}', { bird: 'S-1' });
    });
    expect([said, say('Queue')]).toEqual(['Tomar S-1', 'Queue']);
  });

  it('keeps the English of what no catalogue has, and a value nobody gave', () => {
    expect(inLanguage('es', () => say('Nothing of the kind'))).toBe('Nothing of the kind');
    expect(inLanguage('es', () => say('Take {bird}', { other: 1 }))).toBe('Tomar {bird}');
  });

  it('tells equal English words apart by their notes, and shows no note', () => {
    expect(say('Open|verb')).toBe('Open');
    expect(inLanguage('es', () => [say('Open|verb'), say('Open|state')])).toEqual(['Abrir', 'Abierto']);
  });
});

describe('phrases', () => {
  const table = phrases({
    queue: { label: 'Queue', id: 'Queue', rank: 1, tags: ['Queue', 'queue'], make: () => 'Queue' },
  });
  beforeEach(() => keepCatalogue('es', { Queue: 'Cola', queue: 'cola' }));
  afterEach(() => keepCatalogue('es', {}));

  it('reads in the language of the moment, and leaves codes, numbers and functions', () => {
    const read = () => ({ ...table.queue, tags: [...table.queue.tags], make: table.queue.make() });
    expect(read()).toEqual({ label: 'Queue', id: 'Queue', rank: 1, tags: ['Queue', 'queue'], make: 'Queue' });
    expect(inLanguage('es', read)).toEqual({
      label: 'Cola',
      id: 'Queue',
      rank: 1,
      tags: ['Cola', 'queue'],
      make: 'Queue',
    });
  });
});

describe('chooseLanguage', () => {
  // RFC 9110 section 12.5.4: a list of ranges with weights; the examples' order is that of the weights.
  const cases: [chosen: string | undefined, accepted: string | null, language: Language][] = [
    [undefined, null, 'en'],
    [undefined, 'es', 'es'],
    [undefined, 'es-MX,es;q=0.9,en;q=0.8', 'es'],
    [undefined, 'da, en-gb;q=0.8, es;q=0.7', 'en'],
    [undefined, 'fr;q=0.9, es;q=0.5', 'es'],
    [undefined, 'es;q=0, fr', 'en'],
    ['es', 'en', 'es'],
    ['en', 'es', 'en'],
    ['klingon', 'es', 'es'],
    ['toString', null, 'en'],
  ];
  it.each(cases)('%s and %s give %s', (chosen, accepted, language) => {
    expect(chooseLanguage(chosen, accepted)).toBe(language);
  });
});
