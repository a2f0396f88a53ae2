import { randomUUID } from 'node:crypto';
import { type APIRequest, type APIRequestContext, expect } from '@playwright/test';
import { DEMO_PASSWORD } from '../../lib/platform/identity/demo';
import { BY, type RoundRobin, TO } from './round-robin';

/** `by`: the process that gave it. */
export type Answer = { status: number; body: Record<string, unknown>; by: number };

const towards = (to: number | undefined): Record<string, string> =>
  to === undefined ? {} : { [TO]: String(to) };

/** One person's browser without pages, at the proxy's address. */
export class Person {
  private constructor(
    private readonly proxy: RoundRobin,
    readonly api: APIRequestContext,
  ) {}

  static async at({ request }: { request: APIRequest }, proxy: RoundRobin): Promise<Person> {
    return new Person(proxy, await request.newContext({ baseURL: proxy.address }));
  }

  static async signedIn(
    { request }: { request: APIRequest },
    proxy: RoundRobin,
    who: string,
    through = 0,
  ): Promise<Person> {
    const person = await Person.at({ request }, proxy);
    expect(await person.signIn(who, { through })).toBeNull();
    return person;
  }

  /** The way of the sign-in page. Gives what it was refused with, or null. */
  async signIn(who: string, { through, password = DEMO_PASSWORD }: { through?: number; password?: string }) {
    const headers = towards(through);
    const { csrfToken } = (await (await this.api.get('/api/auth/csrf', { headers })).json()) as Record<
      string,
      string
    >;
    const form = { csrfToken: csrfToken ?? '', email: `${who}@demo.example`, password, json: 'true' };
    const answer = await this.api.post('/api/auth/callback/credentials', { form, headers });
    const { url } = (await answer.json()) as { url: string };
    return new URL(url).searchParams.get('error');
  }

  async get(path: string, to?: number): Promise<Answer> {
    return this.answer(await this.api.get(path, { headers: towards(to) }));
  }

  async post(
    path: string,
    data: unknown,
    { to, key = randomUUID() }: { to?: number; key?: string } = {},
  ): Promise<Answer> {
    const headers = {
      'idempotency-key': key,
      origin: this.proxy.address,
      ...towards(to),
    };
    return this.answer(await this.api.post(path, { data: data as object, headers }));
  }

  private async answer(answer: Awaited<ReturnType<APIRequestContext['get']>>): Promise<Answer> {
    const body = (await answer.json().catch(() => ({}))) as Record<string, unknown>;
    return { status: answer.status(), body, by: Number(answer.headers()[BY]) };
  }

  /** The stream of changes that this process tells: all it has said, and whether it has ended. */
  async listen(to: number): Promise<{ text: string; ended: boolean; leave: () => void }> {
    const { cookies } = await this.api.storageState();
    const leaving = new AbortController();
    const answer = await fetch(`${this.proxy.address}/api/live`, {
      headers: { [TO]: String(to), cookie: cookies.map(({ name, value }) => `${name}=${value}`).join('; ') },
      signal: leaving.signal,
    });
    expect(answer.status).toBe(200);
    expect(answer.headers.get(BY)).toBe(String(to));
    const heard = { text: '', ended: false, leave: () => leaving.abort() };
    const read = async () => {
      const decoder = new TextDecoder();
      const reader = answer.body?.getReader();
      for (let part = await reader?.read(); part?.done === false; part = await reader?.read())
        heard.text += decoder.decode(part.value, { stream: true });
    };
    void read()
      .catch(() => undefined)
      .finally(() => {
        heard.ended = true;
      });
    await expect.poll(() => heard.text).toContain(': listening');
    return heard;
  }
}
