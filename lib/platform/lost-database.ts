/** The database went away, starts, stops, or has no room: of PostgreSQL (appendix A), of the network, of Prisma. */
const LOST = new Set([
  ...['08000', '08003', '08006', '53300', '57P01', '57P02', '57P03'],
  ...['ECONNREFUSED', 'ECONNRESET', 'EPIPE', 'ETIMEDOUT'],
  ...['P1001', 'P1002', 'P1008', 'P1017'],
  ...['DatabaseNotReachable', 'ConnectionClosed', 'SocketTimeout', 'TooManyConnections'],
]);
/** The client's own words where it gives no code. */
const SAID = /Connection terminated|connection timeout|Client has encountered a connection error/i;
const DEEPEST = 8;

type Clues = {
  code?: unknown;
  originalCode?: unknown;
  kind?: unknown;
  message?: unknown;
  cause?: unknown;
  meta?: { driverAdapterError?: unknown };
};

/** Whether an error, or one that it came from, says that the database could not be reached. Pure. */
export function saysDatabaseIsLost(error: unknown, depth = 0): boolean {
  if (typeof error !== 'object' || error === null || depth > DEEPEST) return false;
  const { code, originalCode, kind, message, cause, meta } = error as Clues;
  if ([code, originalCode, kind].some((clue) => typeof clue === 'string' && LOST.has(clue))) return true;
  if (typeof message === 'string' && SAID.test(message)) return true;
  return saysDatabaseIsLost(cause, depth + 1) || saysDatabaseIsLost(meta?.driverAdapterError, depth + 1);
}
