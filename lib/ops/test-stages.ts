import { existsSync, readdirSync } from 'node:fs';
import path from 'node:path';
import { ensureChromium } from './chromium';
import type { Lifetime } from './lifetime';
import { spawnOwned } from './processes';
import { projectRoot } from './project';
import { countAudit, countPlaywright, countVitest, type StageResult } from './test-results';

/** What a stage needs from the run it is part of. */
export interface StageContext {
  lifetime: Lifetime;
  /** A folder that goes away after the run. */
  scratchDir: string;
}

/** One stage of `npm test`. */
export interface Stage {
  /** Its name on the command line. */
  id: string;
  title: string;
  run(context: StageContext): Promise<StageResult & { output: string }>;
}

/** All stages in the order in which they run. */
export const stages: readonly Stage[] = [
  check('format', 'Formatting and lint', [['@biomejs/biome/bin/biome', 'check', '--error-on-warnings', '.']]),
  check('boundaries', 'Import boundaries', [
    [
      'dependency-cruiser/bin/dependency-cruise.mjs',
      '--config',
      'tests/architecture/dependency-cruiser.cjs',
      'app',
      'components',
      'lib',
    ],
  ]),
  check('types', 'Types', [
    // Writes the types of the routes, which a fresh clone does not have.
    ['next/dist/bin/next', 'typegen'],
    ['typescript/bin/tsc', '--noEmit'],
  ]),
  { id: 'packages', title: 'Known weaknesses', run: auditPackages },
  vitest('unit', 'Unit and reference tests', 'vitest.config.ts'),
  vitest('integration', 'Tests on a database', 'vitest.integration.config.ts'),
  { id: 'e2e', title: 'Tests in a browser', run: runPlaywright },
];

/** A stage of programs that say nothing but yes or no; together they count as one case. */
function check(id: string, title: string, programs: readonly string[][]): Stage {
  return {
    id,
    title,
    async run(context) {
      let output = '';
      for (const [program = '', ...args] of programs) {
        const result = await runTool(context, program, args);
        output += result.output;
        if (result.exitCode !== 0) return { ...oneCase('failed'), output };
      }
      return { ...oneCase('passed'), output };
    },
  };
}

function oneCase(outcome: 'passed' | 'failed'): StageResult {
  return { counts: { passed: 0, failed: 0, skipped: 0, [outcome]: 1 }, skippedNames: [] };
}

function vitest(id: string, title: string, config: string): Stage {
  return {
    id,
    title,
    async run(context) {
      const report = path.join(context.scratchDir, `${id}.json`);
      const { exitCode, output } = await runTool(context, 'vitest/vitest.mjs', [
        'run',
        '--config',
        `tests/setup/${config}`,
        '--passWithNoTests',
        '--reporter=default',
        '--reporter=json',
        `--outputFile.json=${report}`,
      ]);
      return { ...countVitest(report, exitCode), output };
    },
  };
}

async function runPlaywright(context: StageContext): Promise<StageResult & { output: string }> {
  const journeys = path.join(projectRoot, 'tests', 'e2e');
  const hasJourneys =
    existsSync(journeys) &&
    readdirSync(journeys, { recursive: true }).some((name) => /\.spec\.ts$/.test(String(name)));
  if (!hasJourneys) return { ...countPlaywright('', 0), output: '' };
  const report = path.join(context.scratchDir, 'e2e.json');
  const { exitCode, output } = await runTool(
    context,
    '@playwright/test/cli.js',
    ['test', '--config', 'tests/setup/playwright.config.ts', '--reporter=list,json'],
    { CHROMIUM_PATH: ensureChromium(), PLAYWRIGHT_JSON_OUTPUT_NAME: report },
  );
  return { ...countPlaywright(report, exitCode), output };
}

/** Asks the registry once, through npm, for half a minute at most. */
async function auditPackages({ lifetime }: StageContext): Promise<StageResult & { output: string }> {
  const npm = await spawnOwned(
    'npm',
    ['audit', '--omit=dev', '--json', '--fetch-retries=0', '--fetch-timeout=30000'],
    {
      cwd: projectRoot,
      stdio: ['ignore', 'pipe', 'ignore'],
    },
  );
  await lifetime.onEnd(() => npm.stop());
  let output = '';
  npm.child.stdout?.on('data', (chunk) => (output += chunk));
  await npm.exited;
  const { summary, ...result } = countAudit(output);
  return { ...result, output: summary };
}

/** Runs a program of node_modules and keeps what it says. */
async function runTool(
  { lifetime }: StageContext,
  program: string,
  args: readonly string[],
  env: Record<string, string> = {},
): Promise<{ exitCode: number | null; output: string }> {
  const { NODE_OPTIONS: _, ...inherited } = process.env;
  const tool = await spawnOwned(process.execPath, [path.join('node_modules', program), ...args], {
    cwd: projectRoot,
    env: { ...inherited, VITE_CONFIG_NATIVE_IGNORE_WARNING: 'true', ...env } as NodeJS.ProcessEnv,
    stdio: ['ignore', 'pipe', 'pipe'],
  });
  await lifetime.onEnd(() => tool.stop());
  let output = '';
  tool.child.stdout?.on('data', (chunk) => (output += chunk));
  tool.child.stderr?.on('data', (chunk) => (output += chunk));
  return { exitCode: await tool.exited, output };
}
