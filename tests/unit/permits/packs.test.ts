import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { loadRulePack, RulePackError, runPackExamples, shippedRulePacks } from '@/lib/permits/packs/load';

const readPack = (name: string) =>
  readFileSync(fileURLToPath(new URL(`../../../lib/permits/packs/${name}`, import.meta.url)), 'utf8');

function problemsOf(text: string): string[] {
  try {
    loadRulePack(text, 'trial.json');
  } catch (error) {
    if (error instanceof RulePackError) return error.problems;
    throw error;
  }
  return [];
}

describe('rule packs', () => {
  it.each(['us-federal.json', 'blank-template.json'])('%s loads and its own examples come out', (name) => {
    const pack = loadRulePack(readPack(name), name);
    expect(pack.examples.length).toBeGreaterThan(0);
    expect(runPackExamples(pack).filter((result) => !result.passed)).toEqual([]);
  });

  it('every entry of the shipped pack names its source, its date and how it is known', () => {
    for (const pack of shippedRulePacks()) {
      const entries = [...pack.rules, ...pack.authorisations, ...pack.unprotected, ...pack.retention];
      for (const entry of [...entries, ...pack.permitDefaults, ...pack.advice]) {
        expect(entry.cite, entry.id).toMatch(/CFR|FR|guidance/);
        expect(entry.date, entry.id).toMatch(/^\d{4}-\d{2}-\d{2}$/);
      }
    }
  });

  it('the template explains every condition, fact and hold it can use', () => {
    const { explanation } = loadRulePack(readPack('blank-template.json'), 'blank-template.json');
    const text = explanation.join(' ');
    const words = ['taxon', 'on-list', 'found-within', 'days-over', 'tag-lacks', 'none-of', 'whenUnknown'];
    for (const word of [...words, 'recalled', 'quarantine', 'suspected-illegal-kill']) {
      expect(text).toContain(word);
    }
  });

  it('broken text is refused with a sentence', () => {
    expect(problemsOf('{"packId": ')[0]).toMatch(/not valid JSON/);
  });

  it('an unknown condition, a bad date and an id used twice are each named with their place', () => {
    const pack = JSON.parse(readPack('us-federal.json'));
    pack.rules[1].when[0] = { kind: 'moon-phase' };
    pack.rules[2].date = '2025-02-30';
    const problems = problemsOf(JSON.stringify(pack)).join('\n');
    expect(problems).toMatch(/rules\[2\]\.when\[1\]/);
    expect(problems).toMatch(/rules\[3\]\.date: must be a day that exists/);

    const twice = JSON.parse(readPack('us-federal.json'));
    twice.rules[1].id = twice.rules[0].id;
    expect(problemsOf(JSON.stringify(twice)).join()).toMatch(/used twice/);
  });

  it('a rule for an authorisation that the pack does not have is refused', () => {
    const pack = JSON.parse(readPack('blank-template.json'));
    pack.rules[0].scope = { authorisation: 'nowhere' };
    expect(problemsOf(JSON.stringify(pack)).join()).toMatch(/no authorisation "nowhere"/);
  });

  it('an example that comes out otherwise stops the pack', () => {
    const pack = JSON.parse(readPack('us-federal.json'));
    pack.examples[0].expect.verdict = 'not-covered';
    expect(problemsOf(JSON.stringify(pack)).join()).toMatch(/expected not-covered, worked out covered/);
  });
});
