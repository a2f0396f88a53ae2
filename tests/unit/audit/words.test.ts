import { readdirSync } from 'node:fs';
import path from 'node:path';
import { describe, expect, it } from 'vitest';
import { SENTENCES } from '@/components/audit/words';
import { projectRoot } from '@/lib/ops/project';

/** Every kind of event, of every stage's events.ts as it lies on disk. */
const files = readdirSync(path.join(projectRoot, 'lib'), { recursive: true, encoding: 'utf8' }).filter(
  (file) => path.basename(file) === 'events.ts' && !file.startsWith('platform'),
);
const kinds = (
  await Promise.all(
    files.map(async (file) => {
      const defined: Record<string, unknown> = await import(path.join(projectRoot, 'lib', file));
      return Object.values(defined).flatMap((one) =>
        Object.keys((one as { shapes?: Record<string, unknown> }).shapes ?? {}),
      );
    }),
  )
).flat();

describe('the history in words', () => {
  it('finds the events of the stages', () => {
    expect(kinds.length).toBeGreaterThan(150);
  });

  it.each(kinds)('%s has a sentence, also where facts are missing', (kind) => {
    expect(SENTENCES[kind]?.({}) ?? '').toMatch(/[a-z]{3}/);
  });

  it('has no sentence for what cannot happen', () => {
    expect(Object.keys(SENTENCES).filter((kind) => !kinds.includes(kind))).toEqual([]);
  });
});
