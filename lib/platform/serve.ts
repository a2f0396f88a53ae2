import 'server-only';
import { performance } from 'node:perf_hooks';
import { settings } from './env';
import { enter, leave, routeOf } from './meter';

type Params = Promise<Record<string, string | string[] | undefined> | undefined>;
type Handler = (request: Request, context: { params: Params }) => Promise<Response>;

/**
 * Counts a route's requests and turns away, at once, what comes while MAX_REQUESTS run already: a server that is asked
 * too much answers some quickly instead of all too late.
 */
export function serve(handler: Handler, turnAway: () => Response): Handler {
  return async (request, context) => {
    const { method } = request;
    if (!enter(settings().MAX_REQUESTS)) return turnAway();
    const startedAt = performance.now();
    let route = 'unknown';
    let status = 500;
    try {
      // A route without such parts in its address is given none at all.
      route = routeOf(request.url, (await context.params) ?? {});
      const answer = await handler(request, context);
      status = answer.status;
      return answer;
    } finally {
      leave({ method, route, status, seconds: (performance.now() - startedAt) / 1000 });
    }
  };
}
