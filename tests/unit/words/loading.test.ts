import { readdirSync } from 'node:fs';
import path from 'node:path';
import { expect, it, vi } from 'vitest';
import { projectRoot } from '@/lib/ops/project';

/** Where words were asked for while nothing was shown to anybody. */
const asked = vi.hoisted(() => new Set<string>());
vi.mock('#ambient-language', () => ({
  rememberSaid: () => undefined,
  currentLanguage: () => {
    const [, ...lines] = (new Error().stack ?? '').split('\n');
    const ours = lines.find((line) => /\/(components|lib|app)\//.test(line) && !line.includes('/words/'));
    asked.add(/\/((?:components|lib|app)\/.*?:\d+)/.exec(ours ?? '')?.[1] ?? lines.join('\n'));
    return 'en';
  },
}));

const modules = ['components', 'lib'].flatMap((folder) =>
  readdirSync(path.join(projectRoot, folder), { recursive: true, encoding: 'utf8' })
    .filter((file) => /\.tsx?$/.test(file) && !file.endsWith('.d.ts'))
    .map((file) => path.join(folder, file))
    .filter((file) => !/^lib\/(ops|platform\/generated)\/|compute-task/.test(file)),
);

it('no word is read when a module is loaded: it would stay in the language of that moment', {
  timeout: 120_000,
}, async () => {
  for (const file of modules) await import(path.join(projectRoot, file));
  expect(modules.length).toBeGreaterThan(900);
  expect([...asked].sort()).toEqual([]);
});
