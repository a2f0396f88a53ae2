import { describe, expect, it } from 'vitest';
import { statementNames } from '@/lib/platform/statement-names';

const reading = (what: string) => ({ sql: `SELECT JSONB_AGG("__prisma_data__") FROM ${what}` });

describe('names of statements that stay prepared', () => {
  it('a read with relations has one when it was met often, and keeps it', () => {
    const nameOf = statementNames({ often: 3 });
    expect([1, 2, 3, 4].map(() => nameOf(reading('"Bird"')))).toEqual(['', '', 'furcula_1', 'furcula_1']);
  });

  it('no two texts share a name', () => {
    const nameOf = statementNames({ often: 1 });
    const names = ['"Bird"', '"Loan"', '"Bird" '].map((what) => nameOf(reading(what)));
    expect(new Set(names).size).toBe(3);
  });

  it('other statements go without: their best plan may hang on their values', () => {
    const nameOf = statementNames({ often: 1 });
    expect(nameOf({ sql: 'SELECT id FROM "Bird" WHERE state = ANY($1)' })).toBe('');
  });

  it('there are only so many names; those that were given stay', () => {
    const nameOf = statementNames({ often: 1, most: 2 });
    const met = ['a', 'b', 'c', 'a'].map((what) => nameOf(reading(what)));
    expect(met).toEqual(['furcula_1', 'furcula_2', '', 'furcula_1']);
  });
});
