import { expect, it } from 'vitest';
import { routeModules } from '@/app/api/openapi.json/routes.generated';
import { describeApi, listApiRoutes } from '@/lib/exchange/openapi';

it('describes every route by the very schemas that check it', () => {
  const failures = routeModules.flatMap((one) => {
    try {
      describeApi([one], 'http://localhost');
      return [];
    } catch (error) {
      return [`${one.folder}: ${(error as Error).message}`];
    }
  });
  expect(failures).toEqual([]);
  const paths = describeApi(routeModules, 'http://localhost').paths ?? {};
  const operations = Object.values(paths).flatMap((path) => Object.keys(path));
  expect(operations).toHaveLength(listApiRoutes(routeModules).length);
});
