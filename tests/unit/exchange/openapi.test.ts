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

it('says of each read that it carries an ETag, and of no command or file', () => {
  const document = describeApi(routeModules, 'http://localhost');
  for (const { method, path, route } of listApiRoutes(routeModules)) {
    const operation = document.paths?.[path]?.[method.toLowerCase() as 'get'];
    const tagged = method === 'GET' && route.kind === 'read' && route.schemas?.response !== undefined;
    expect(operation?.responses?.['304'] !== undefined, `${method} ${path}`).toBe(tagged);
    const headers = JSON.stringify(operation?.parameters ?? []);
    expect(headers.includes('If-None-Match'), `${method} ${path}`).toBe(tagged);
  }
});
