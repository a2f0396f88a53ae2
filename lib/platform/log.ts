import 'server-only';
import pino from 'pino';
import { settings } from './env';

let logger: pino.Logger | undefined;

/** Structured log on standard output; addresses, names and contact data are never passed to it. */
export function log(): pino.Logger {
  logger ??= pino({ level: settings().LOG_LEVEL, base: null });
  return logger;
}
