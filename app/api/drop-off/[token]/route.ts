import { randomUUID } from 'node:crypto';
import { AppError, notFound, notValid } from '@/lib/platform/errors';
import { problemResponse, type RouteDescription, refuseForeignOrigin } from '@/lib/platform/http';
import { consumeAttempt } from '@/lib/platform/rate-limit';
import { unfitPart } from '@/lib/platform/wire-text';
import { dropOffRequest } from '@/lib/salvage/schema';
import { dropOff } from '@/lib/salvage/service/slips';

const LARGEST_REPORT = 20_000;
const BY_SLIP = { points: 60, seconds: 3600 };
const BY_ADDRESS = { points: 20, seconds: 3600 };

async function refuseFlood(request: Request, token: string): Promise<void> {
  const address = request.headers.get('x-forwarded-for')?.split(',')[0] ?? 'local';
  const waits = [
    await consumeAttempt(`drop-off address:${address}`, BY_ADDRESS),
    await consumeAttempt(`drop-off slip:${token.slice(0, 40)}`, BY_SLIP),
  ];
  const wait = Math.max(...waits);
  if (wait > 0) {
    const minutes = Math.ceil(wait / 60);
    throw new AppError(
      'too-many',
      `Many reports came this way. Try again in ${minutes} minutes, or fill in the paper.`,
    );
  }
}

async function readReport(request: Request) {
  const text = await request.text();
  if (text.length > LARGEST_REPORT) throw new AppError('bad-request', 'The report is too long.');
  let body: unknown = null;
  try {
    body = JSON.parse(text);
  } catch {
    throw new AppError('bad-request', 'The report could not be read.');
  }
  const unfit = unfitPart(body);
  if (unfit !== null) throw notValid('Nothing was sent yet.', [unfit]);
  const parsed = dropOffRequest.safeParse(body);
  if (parsed.success) return parsed.data;
  throw notValid(
    'Nothing was sent yet.',
    parsed.error.issues.map((issue) => ({ path: issue.path.join('.'), message: issue.message })),
  );
}

/** A finder's report. No account: the token of a printed slip lets in this one kind of report and shows nothing. */
export const POST = Object.assign(
  async (request: Request, { params }: { params: Promise<{ token: string }> }): Promise<Response> => {
    try {
      refuseForeignOrigin(request);
      const { token } = await params;
      if (unfitPart(token) !== null) throw notFound('This slip');
      await refuseFlood(request, token);
      return Response.json(await dropOff(token, await readReport(request)));
    } catch (error) {
      return problemResponse(error, randomUUID());
    }
  },
  { route: { permission: 'public', kind: 'command' } satisfies RouteDescription },
);
