import { randomUUID } from 'node:crypto';
import { acceptLink } from '@/lib/people/links';
import { linkUse } from '@/lib/people/schema';
import { clientAddress } from '@/lib/platform/client-address';
import { AppError, notValid } from '@/lib/platform/errors';
import { problemResponse, type RouteDescription, refuseForeignOrigin } from '@/lib/platform/http';
import { consumeAttempt } from '@/lib/platform/rate-limit';
import { unfitPart } from '@/lib/platform/wire-text';

/** Uses a one-time link. Nobody is signed in yet, so attempts are limited by address. */
export const POST = Object.assign(
  async (request: Request): Promise<Response> => {
    try {
      refuseForeignOrigin(request);
      const address = clientAddress(request.headers.get('x-forwarded-for'));
      const wait = await consumeAttempt(`set-up:${address}`, { points: 20, seconds: 3600 });
      if (wait > 0) throw new AppError('too-many', `Too many attempts. Wait ${wait} seconds.`);
      const body: unknown = await request.json().catch(() => null);
      const unfit = unfitPart(body);
      if (unfit !== null) throw notValid('Something is not right yet.', [unfit]);
      const parsed = linkUse.safeParse(body);
      if (!parsed.success) {
        throw notValid(
          'Something is not right yet.',
          parsed.error.issues.map((issue) => ({ path: issue.path.join('.'), message: issue.message })),
        );
      }
      return Response.json(await acceptLink(parsed.data));
    } catch (error) {
      return problemResponse(error, randomUUID());
    }
  },
  { route: { permission: 'public', kind: 'command' } satisfies RouteDescription },
);
