import { expect, test } from '@playwright/test';

test.describe('what every answer says to a browser, page or not', () => {
  for (const [path, status] of [
    ['/sign-in', 200],
    ['/no-such-page', 404],
    ['/api/health', 200],
    ['/api/auth/session', 200],
    ['/api/salvage', 401],
    ['/api/no-such-route', 404],
    ['/api/salvage/%', 400],
    ['/api/salvage/%00', 400],
    ['/api/salvage/%E0%A4%A', 400],
    ['/birds/%E0%A4%A', 400],
  ] as const)
    test(`${path} answers ${status}, is not sniffed and not framed`, async ({ playwright, baseURL }) => {
      const visitor = await playwright.request.newContext({ baseURL });
      const answer = await visitor.get(path);
      const headers = answer.headers();
      expect(answer.status()).toBe(status);
      expect(headers['x-content-type-options']).toBe('nosniff');
      expect(headers['x-frame-options']).toBe('DENY');
      expect(headers['referrer-policy']).toBe('same-origin');
      expect(headers['content-security-policy']).toContain("frame-ancestors 'none'");
      await visitor.dispose();
    });
});
