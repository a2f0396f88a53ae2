import { type ChildProcess, fork, spawn } from 'node:child_process';
import { readdirSync, readFileSync } from 'node:fs';
import path from 'node:path';
import { projectRoot } from '@/lib/ops/project';
import { makeScratchDir, removeScratchDir } from '@/lib/ops/scratch-dir';

const execArgv = ['--conditions=react-server', '--import', 'tsx'];

/** Runs work with a folder of its own that is removed afterwards. */
export async function withScratchDir<T>(work: (dir: string) => Promise<T>): Promise<T> {
  const dir = makeScratchDir('ops');
  try {
    return await work(dir);
  } finally {
    removeScratchDir(dir);
  }
}

/** Starts tests/ops/fixtures/hold-server.ts and waits until its row is committed. */
export async function holdServer(dir: string): Promise<{ holder: ChildProcess; serverPid: number }> {
  const holder = fork(path.join(projectRoot, 'tests/ops/fixtures/hold-server.ts'), [dir], {
    cwd: projectRoot,
    execArgv,
  });
  const { serverPid } = await new Promise<{ serverPid: number }>((resolve, reject) => {
    holder.once('message', (message) => resolve(message as { serverPid: number }));
    holder.once('exit', () => reject(new Error('the holder ended too early')));
  });
  return { holder, serverPid };
}

/** What a program of lib/ops said and how it ended. */
export interface Outcome {
  code: number | null;
  stdout: string;
  stderr: string;
}

/** Runs a program of lib/ops to its end, with these settings and no others of ours. */
export function runProgram(
  file: string,
  env: Record<string, string>,
  args: readonly string[] = [],
): Promise<Outcome> {
  const { DATABASE_URL: _, NODE_ENV: __, ...inherited } = process.env;
  const child = spawn(process.execPath, [...execArgv, path.join('lib', 'ops', file), ...args], {
    cwd: projectRoot,
    env: { ...inherited, ...env } as NodeJS.ProcessEnv,
  });
  let stdout = '';
  let stderr = '';
  child.stdout.on('data', (chunk) => {
    stdout += chunk;
  });
  child.stderr.on('data', (chunk) => {
    stderr += chunk;
  });
  return new Promise((resolve) => child.once('close', (code) => resolve({ code, stdout, stderr })));
}

/** Ids of the processes that a process started and that still run (Linux). */
export function childrenOf(pid: number): number[] {
  return readdirSync('/proc')
    .filter((name) => /^\d+$/.test(name))
    .filter((name) => {
      try {
        const stat = readFileSync(`/proc/${name}/stat`, 'utf8');
        return Number(stat.slice(stat.lastIndexOf(')') + 2).split(' ')[1]) === pid;
      } catch {
        return false;
      }
    })
    .map(Number);
}
