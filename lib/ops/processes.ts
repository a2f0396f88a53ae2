import { type ChildProcess, execFileSync, type SpawnOptions, spawn } from 'node:child_process';
import { readFileSync } from 'node:fs';

/** A child process that cannot outlive this one. */
export interface OwnedProcess {
  readonly pid: number;
  readonly child: ChildProcess;
  /** Settles when the child has gone, with its exit code, or null when a signal ended it. */
  readonly exited: Promise<number | null>;
  /** Asks the child to go, waits, and after `patienceMs` insists with SIGKILL. */
  stop(patienceMs?: number): Promise<void>;
}

/**
 * Starts a child in a process group of its own, so that Ctrl-C in the terminal reaches only this process and
 * the order of stopping stays ours. A tiny shell beside it waits for the pipe from this process to close: when
 * this process is killed with SIGKILL and can do nothing more, the shell still sends `stopSignal`.
 */
export function spawnOwned(
  command: string,
  args: readonly string[],
  options: SpawnOptions & { stopSignal?: NodeJS.Signals } = {},
): Promise<OwnedProcess> {
  const { stopSignal = 'SIGTERM', ...spawnOptions } = options;
  const child = spawn(command, args, { ...spawnOptions, detached: true });
  return new Promise((resolve, reject) => {
    child.once('error', reject);
    child.once('spawn', () => {
      const pid = child.pid as number;
      const keeper = startKeeper(pid, stopSignal);
      const exited = new Promise<number | null>((settle) => {
        child.once('exit', (code) => {
          keeper.kill('SIGKILL');
          settle(code);
        });
      });
      resolve({ pid, child, exited, stop: (patienceMs) => stopGroup(pid, stopSignal, exited, patienceMs) });
    });
  });
}

function startKeeper(pid: number, stopSignal: NodeJS.Signals): ChildProcess {
  const script = 'while read -r _; do :; done; kill -s "$1" -- "-$2"';
  const keeper = spawn('/bin/sh', ['-c', script, 'keeper', stopSignal.replace('SIG', ''), String(pid)], {
    stdio: ['pipe', 'ignore', 'ignore'],
    detached: true,
    cwd: '/',
  });
  keeper.once('error', () => undefined);
  keeper.unref();
  (keeper.stdin as unknown as { unref?: () => void } | null)?.unref?.();
  return keeper;
}

async function stopGroup(
  pid: number,
  stopSignal: NodeJS.Signals,
  exited: Promise<number | null>,
  patienceMs = 15_000,
): Promise<void> {
  signalGroup(pid, stopSignal);
  const timer = setTimeout(() => signalGroup(pid, 'SIGKILL'), patienceMs);
  await exited;
  clearTimeout(timer);
}

function signalGroup(pid: number, signal: NodeJS.Signals): void {
  try {
    process.kill(-pid, signal);
  } catch {
    // The group has gone already, which is what was wanted.
  }
}

/** Whether a process with this id exists, whoever owns it. */
export function isAlive(pid: number): boolean {
  try {
    process.kill(pid, 0);
    return true;
  } catch (error) {
    return (error as NodeJS.ErrnoException).code === 'EPERM';
  }
}

/**
 * When a process began, as text that differs for every process that ever had this id, or undefined when it
 * has gone. Ids alone are not enough: after a restart of the machine or container another process has it.
 */
export function processStamp(pid: number): string | undefined {
  if (!isAlive(pid)) return undefined;
  if (process.platform === 'linux') {
    try {
      const stat = readFileSync(`/proc/${pid}/stat`, 'utf8');
      // The name in parentheses may hold spaces; field 22 (start time) is the 20th after it.
      const startTicks = stat.slice(stat.lastIndexOf(')') + 2).split(' ')[19];
      return `${readFileSync('/proc/sys/kernel/random/boot_id', 'utf8').trim()}/${startTicks}`;
    } catch {
      return undefined;
    }
  }
  return runQuietly('ps', ['-o', 'lstart=', '-p', String(pid)]);
}

/** The command line of a process, or undefined when it has gone. */
export function commandLine(pid: number): string | undefined {
  if (process.platform === 'linux') {
    try {
      return readFileSync(`/proc/${pid}/cmdline`, 'utf8').replaceAll('\0', ' ').trim();
    } catch {
      return undefined;
    }
  }
  return runQuietly('ps', ['-o', 'command=', '-p', String(pid)]);
}

function runQuietly(command: string, args: readonly string[]): string | undefined {
  try {
    const text = execFileSync(command, args, {
      encoding: 'utf8',
      stdio: ['ignore', 'pipe', 'ignore'],
    }).trim();
    return text === '' ? undefined : text;
  } catch {
    return undefined;
  }
}

/** Waits until `condition` holds, asking every 50 ms; false when it still does not after `patienceMs`. */
export async function waitUntil(
  condition: () => boolean | Promise<boolean>,
  patienceMs: number,
): Promise<boolean> {
  const deadline = Date.now() + patienceMs;
  while (!(await condition())) {
    if (Date.now() > deadline) return false;
    await new Promise((resolve) => setTimeout(resolve, 50));
  }
  return true;
}
