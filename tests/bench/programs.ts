import { spawn } from 'node:child_process';
import { text } from 'node:stream/consumers';
import { OperatorError } from '@/lib/ops/operator-error';
import { projectRoot } from '@/lib/ops/project';
import type { ProgramSaid } from './readme';

/** Programs that make what they measure themselves, each on an empty, migrated database. */
const PROGRAMS = [
  { name: 'The day plan', file: 'plan-bench.ts', args: [], flags: [] },
  { name: 'Many people take birds', file: 'claims-bench.ts', args: [], flags: [] },
  { name: 'The report on 10,000 birds', file: 'report-bench.ts', args: ['10000'], flags: [] },
  {
    name: 'Storage and the freezer’s log',
    file: 'storage-bench.ts',
    args: [],
    flags: ['--max-semi-space-size=4'],
  },
  { name: 'The archive of 100,000 birds', file: 'export-bench.ts', args: ['100000'], flags: [] },
] as const;

/** Runs them one after the other. @param makeDatabase gives the address of a fresh database */
export async function runPrograms(makeDatabase: () => Promise<string>): Promise<ProgramSaid[]> {
  const all: ProgramSaid[] = [];
  for (const { name, file, args, flags } of PROGRAMS) {
    const child = spawn(
      process.execPath,
      [...flags, '--conditions=react-server', '--import', 'tsx', `tests/bench/${file}`, ...args],
      {
        cwd: projectRoot,
        env: { ...process.env, DATABASE_URL: await makeDatabase() },
        stdio: ['ignore', 'pipe', 'inherit'],
      },
    );
    const ended = new Promise<number | null>((resolve) => child.once('close', resolve));
    const printed = await text(child.stdout);
    if ((await ended) !== 0) throw new OperatorError(`tests/bench/${file} failed; its lines above say why.`);
    const said = printed
      .trim()
      .split('\n')
      .map((line) => line.replace(/\s+/g, ' ').trim());
    console.log([name, ...said].join('\n'));
    all.push({ name, said });
  }
  return all;
}
