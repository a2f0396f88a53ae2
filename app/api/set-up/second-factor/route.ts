import { randomUUID } from 'node:crypto';
import { enrolmentConfirmation } from '@/lib/people/schema';
import { confirmEnrolment } from '@/lib/people/second-factor';
import { clientAddress } from '@/lib/platform/client-address';
import { AppError, notValid } from '@/lib/platform/errors';
import { problemResponse, type RouteDescription, refuseForeignOrigin } from '@/lib/platform/http';
import { consumeAttempt } from '@/lib/platform/rate-limit';

/** Confirms a second factor behind its one-time link; nobody is signed in yet, so attempts are limited by address. */
export const POST = Object.assign(
  async (request: Request): Promise<Response> => {
    try {
      refuseForeignOrigin(request);
      const address = clientAddress(request.headers.get('x-forwarded-for'));
      const wait = await consumeAttempt(`second-factor set-up:${address}`, { points: 20, seconds: 3600 });
      if (wait > 0) throw new AppError('too-many', `Too many attempts. Wait ${wait} seconds.`);
      const parsed = enrolmentConfirmation.safeParse(await request.json().catch(() => null));
      if (!parsed.success) {
        throw notValid(
          'Something is not right yet.',
          parsed.error.issues.map((issue) => ({ path: issue.path.join('.'), message: issue.message })),
        );
      }
      return Response.json(await confirmEnrolment(parsed.data));
    } catch (error) {
      return problemResponse(error, randomUUID());
    }
  },
  { route: { permission: 'public', kind: 'command' } satisfies RouteDescription },
);
