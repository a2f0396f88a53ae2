import { problemSchema } from '@/lib/platform/api';
import type { Plan, Requests } from './requests';
import type { Watch } from './watch';

/** What came of many bad requests. `faults` names each kind once, with the first request that showed it. */
export type Tally = {
  sent: number;
  /** Sent a second time because the connection ended. */
  resent: number;
  byStatus: Map<number, number>;
  refused: number;
  acceptedReads: number;
  acceptedCommands: number;
  routes: Set<string>;
  faults: Map<string, { times: number; example: string }>;
};

export type Send = (plan: Plan) => Promise<Response>;

/**
 * Sends `count` requests, one after the other. A request must be refused with problem details and leave every table
 * as it was, or be answered because it happened to be right; a failure of the server (5xx) is a fault.
 */
export async function sendBadRequests(
  count: number,
  {
    requests,
    send,
    watch,
    say,
  }: { requests: Requests; send: Send; watch: Watch; say?: (text: string) => void },
): Promise<Tally> {
  const tally: Tally = {
    sent: 0,
    resent: 0,
    byStatus: new Map(),
    refused: 0,
    acceptedReads: 0,
    acceptedCommands: 0,
    routes: new Set(),
    faults: new Map(),
  };
  while (tally.sent < count) {
    const plan = requests.next();
    const answer = await send(plan).catch(() => sendAgain(plan, send, tally));
    tally.sent += 1;
    if (answer === null) continue;
    tally.byStatus.set(answer.status, (tally.byStatus.get(answer.status) ?? 0) + 1);
    tally.routes.add(`${plan.target.method} ${plan.target.folder}`);
    const fault = await judge(plan, answer, watch, tally);
    if (fault !== null) note(tally, plan, fault);
    if (tally.sent % 2_000 === 0) say?.(`${tally.sent} requests, ${tally.faults.size} kinds of faults`);
  }
  return tally;
}

/** A connection that was kept open may end just as it is used; one that ends twice is the server's doing. */
async function sendAgain(plan: Plan, send: Send, tally: Tally): Promise<Response | null> {
  tally.resent += 1;
  try {
    return await send(plan);
  } catch (error) {
    const { message, cause } = error as Error & { cause?: { code?: string; message?: string } };
    note(tally, plan, `got no answer: ${cause?.code ?? cause?.message ?? message}`);
    return null;
  }
}

async function judge(plan: Plan, answer: Response, watch: Watch, tally: Tally): Promise<string | null> {
  const text = await answer.text();
  const written = await watch.changes();
  if (answer.status < 400) {
    if (plan.target.route.kind === 'read') tally.acceptedReads += 1;
    else tally.acceptedCommands += 1;
    return null;
  }
  if (answer.status >= 500) return `answered ${answer.status}`;
  tally.refused += 1;
  if (written.length > 0) return `refused with ${answer.status} but wrote ${written.join(', ')}`;
  const problem = problemSchema.safeParse(parseJson(text));
  const isProblem = answer.headers.get('content-type')?.startsWith('application/problem+json') === true;
  return isProblem && problem.data?.status === answer.status
    ? null
    : `refused with ${answer.status} without saying why`;
}

function note(tally: Tally, plan: Plan, fault: string): void {
  const key = `${plan.target.method} ${plan.target.folder} ${fault}`;
  const body = typeof plan.body === 'string' ? plan.body : plan.body && `${plan.body.length} bytes`;
  const example = `${plan.role} ${plan.address} ${body ?? ''}`;
  const known = tally.faults.get(key);
  if (known === undefined) tally.faults.set(key, { times: 1, example: example.slice(0, 1_500) });
  else known.times += 1;
}

function parseJson(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return null;
  }
}

/** A few lines for a person. */
export function describeTally(tally: Tally): string[] {
  const statuses = [...tally.byStatus]
    .sort(([a], [b]) => a - b)
    .map(([status, times]) => `${status}: ${times}`);
  return [
    `${tally.sent} requests to ${tally.routes.size} routes: ${tally.refused} refused, ${tally.acceptedReads} reads and ${tally.acceptedCommands} commands happened to be right; ${tally.resent} sent twice`,
    `by status ${statuses.join(', ')}`,
    ...[...tally.faults].map(
      ([what, { times, example }]) => `FAULT ${what} (${times} times), first: ${example}`,
    ),
  ];
}
