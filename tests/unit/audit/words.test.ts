import { readdirSync } from 'node:fs';
import path from 'node:path';
import { describe, expect, it, vi } from 'vitest';
import { SENTENCES, sayChanges } from '@/components/audit/words';
import type { HistoryEvent } from '@/lib/audit/schema';
import { projectRoot } from '@/lib/ops/project';
import { inLanguage } from '@/lib/platform/words/ambient-server';
import { keepCatalogue } from '@/lib/platform/words/catalogues';

vi.mock('#ambient-language', () => import('@/lib/platform/words/ambient-server'));

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

  const event = (kind: string, changes: Record<string, { from: unknown; to: unknown }>): HistoryEvent => ({
    id: '0192d3e0-0000-7000-8000-000000000001',
    seq: 1,
    at: '2024-05-01T12:00:00.000Z',
    actorName: 'Ana',
    kind,
    subjectType: 'prep-record',
    subjectId: '0192d3e0-0000-7000-8000-000000000002',
    payload: { changes },
    reason: null,
  });

  it.each([
    ['wingMm', 'Wing mm'],
    ['Bursa of Fabricius', 'Bursa of Fabricius'],
  ])('names the field %s %s', (field, label) => {
    expect(sayChanges(event('bench.values-written', { [field]: { from: null, to: 4 } }))).toEqual([
      { label, from: null, to: '4' },
    ]);
  });

  it('says the lists’ words of the bench to the reader, and leaves what others wrote as it is', () => {
    const changes = { Sex: { from: null, to: 'Female' } };
    keepCatalogue('es', { Female: 'Hembra' });
    const said = (kind: string) => inLanguage('es', () => sayChanges(event(kind, changes))[0]?.to);
    expect(said('bench.values-written')).toBe('Hembra');
    expect(said('salvage.changed')).toBe('Female');
  });
});
