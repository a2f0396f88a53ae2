import type { RouteModule } from '@/lib/exchange/openapi';
import type { RouteDescription } from '@/lib/platform/http';
import type { Target } from './requests';

/** Not sent to: the stream of live changes has no end. */
const ENDLESS = 'api/live';

/** Every route and method that says what it takes. */
export const listTargets = (modules: readonly RouteModule[]): Target[] =>
  modules
    .filter(({ folder }) => folder !== ENDLESS)
    .flatMap(({ folder, handlers }) =>
      Object.entries(handlers).flatMap(([method, handler]) => {
        const route = (handler as { route?: RouteDescription } | undefined)?.route;
        return route === undefined ? [] : [{ folder, method, route }];
      }),
    );
