import { explainError } from './operator-error';

/**
 * What a command has started and must stop, in reverse order, however it ends: by itself, by an error, by
 * Ctrl-C, or because the process above it has gone.
 */
export class Lifetime {
  private readonly stops: (() => Promise<void> | void)[] = [];
  private ending: Promise<never> | undefined;

  constructor() {
    for (const signal of ['SIGINT', 'SIGTERM', 'SIGHUP'] as const) {
      process.on(signal, () => void this.end(this.isReady ? 0 : 130));
    }
    process.on('disconnect', () => void this.end(1));
    process.on('uncaughtException', (error) => void this.fail(error));
    process.on('unhandledRejection', (error) => void this.fail(error));
  }

  /** Set when everything runs: being asked to stop is then a good end. */
  isReady = false;

  /** Whether stopping has begun. */
  get isEnding(): boolean {
    return this.ending !== undefined;
  }

  /** Adds something to stop. When stopping has begun already, it is stopped at once. */
  async onEnd(stop: () => Promise<void> | void): Promise<void> {
    if (this.ending) await stop();
    else this.stops.push(stop);
  }

  /** Says what went wrong in one sentence, stops everything and ends with code 1. */
  fail(error: unknown): Promise<never> {
    if (!this.ending) console.error(explainError(error));
    return this.end(1);
  }

  /** Stops everything and ends the process with this code. */
  end(code: number): Promise<never> {
    this.ending ??= this.stopAll(code);
    return this.ending;
  }

  private async stopAll(code: number): Promise<never> {
    for (let stop = this.stops.pop(); stop; stop = this.stops.pop()) {
      try {
        await stop();
      } catch (error) {
        console.error(explainError(error));
      }
    }
    process.exit(code);
  }
}
