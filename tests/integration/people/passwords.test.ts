import { createHash } from 'node:crypto';
import { beforeEach, describe, expect, it } from 'vitest';
import { acceptLink } from '@/lib/people/links';
import { invitePerson, offerPasswordReset } from '@/lib/people/service';
import type { Actor } from '@/lib/platform/actor';
import { db } from '@/lib/platform/db';
import { checkPassword } from '@/lib/platform/identity/sign-in';
import { contextOf, makeActor, makeCollection } from '@/seed/factories';

const GOOD = 'four words that fit together';
const tokenOf = ({ link }: { link: string }) => link.split('/').at(-1) ?? '';
const signIn = (email: string, password: string) =>
  checkPassword({ email, password, code: '', address: '10.1.0.1' });

let administrator: Actor;
let institution: string;
beforeEach(async () => {
  const collectionId = await makeCollection(db());
  institution = (await db().collection.findUniqueOrThrow({ where: { id: collectionId } })).name;
  administrator = await makeActor(db(), collectionId, 'administrator');
});

const refused = { code: 'not-valid', fields: [{ path: 'password', message: expect.stringMatching(/Take/) }] };

describe('a password that everybody knows', () => {
  it('is refused to somebody invited; the link works still, with a better one', async () => {
    const email = `${crypto.randomUUID().slice(0, 8)}.thorne@lab.example`;
    const invited = await invitePerson(contextOf(administrator), {
      name: 'Bertram Thorne',
      email,
      roles: ['volunteer'],
    });
    const token = tokenOf(invited);
    for (const password of [
      'password2026',
      'qwertyuiopasdf',
      'bertram-thorne-1',
      `${institution} 1`,
      `x${email.split('@')[0]}x`,
    ])
      await expect(acceptLink({ token, password }), password).rejects.toMatchObject(refused);
    const kept = await db().person.findUniqueOrThrow({ where: { email } });
    expect(kept.passwordDigest).toBeNull();
    expect(await acceptLink({ token, password: GOOD })).toEqual({ email });
    expect(await signIn(email, GOOD)).toMatchObject({ email });
  });

  it('is refused when a password is set anew; the old one stands', async () => {
    const email = `${crypto.randomUUID().slice(0, 8)}.moss@lab.example`;
    const invited = await invitePerson(contextOf(administrator), {
      name: 'Ida Moss',
      email,
      roles: ['volunteer'],
    });
    await acceptLink({ token: tokenOf(invited), password: GOOD });
    const token = tokenOf(await offerPasswordReset(contextOf(administrator), invited.person.id));
    await expect(acceptLink({ token, password: 'sunshine12345' })).rejects.toMatchObject(refused);
    expect(await signIn(email, GOOD)).toMatchObject({ email });
  });

  it('is refused to the first administrator; nothing is founded', async () => {
    const token = crypto.randomUUID();
    await db().accessLink.create({
      data: {
        purpose: 'first-administrator',
        tokenDigest: createHash('sha256').update(token).digest('hex'),
        expiresAt: new Date(Date.now() + 3_600_000),
      },
    });
    const before = await db().collection.count();
    const use = {
      token,
      name: 'Una Reyes',
      email: `${crypto.randomUUID()}@lab.example`,
      collection: { name: 'Sandbar Museum', code: 'SBM-9', timeZone: 'UTC' },
    };
    await expect(acceptLink({ ...use, password: 'SandbarMuseum 2026' })).rejects.toMatchObject(refused);
    expect(await db().collection.count()).toBe(before);
  });
});
