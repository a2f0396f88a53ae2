import { beforeEach, describe, expect, it, vi } from 'vitest';
import { acceptLink } from '@/lib/people/links';
import {
  beginEnrolment,
  confirmEnrolment,
  describeEnrolment,
  resetSecondFactor,
} from '@/lib/people/second-factor';
import { showPerson } from '@/lib/people/service';
import type { Actor } from '@/lib/platform/actor';
import { db } from '@/lib/platform/db';
import { hashPassword } from '@/lib/platform/identity/passwords';
import { seal, unseal } from '@/lib/platform/identity/sealed';
import { actorOf } from '@/lib/platform/identity/session';
import { beginSession } from '@/lib/platform/identity/sessions';
import { checkPassword } from '@/lib/platform/identity/sign-in';
import { CODE_ASKED, ENROL_FIRST } from '@/lib/platform/identity/sign-in-words';
import { codeOf, stepOf } from '@/lib/platform/identity/totp';
import type { Role } from '@/lib/platform/permissions';
import { contextOf, makeActor, makeCollection } from '@/seed/factories';

const required = vi.hoisted(() => ({ value: false }));
vi.mock('@/lib/platform/env', async (load) => {
  const real = await load<typeof import('@/lib/platform/env')>();
  return { ...real, settings: () => ({ ...real.settings(), REQUIRE_SECOND_FACTOR: required.value }) };
});

const PASSWORD = 'four words that fit together';
const START = Date.parse('2026-03-14T10:00:00Z');
let collectionId: string;
let attempt = 0;

async function person(...roles: Role[]): Promise<Actor & { email: string; id: string }> {
  const actor = await makeActor(db(), collectionId, ...roles);
  const id = actor.personId ?? '';
  const { email } = await db().person.update({
    where: { id },
    data: { passwordDigest: await hashPassword(PASSWORD) },
  });
  return { ...actor, email, id };
}

/** From a new address each time: what is limited here is the account. */
const signIn = (email: string, code = '', password = PASSWORD) => {
  attempt += 1;
  return checkPassword({ email, password, code, address: `10.0.0.${attempt}` });
};

const bytesOf = (base32: string): Buffer => {
  const bits = [...base32].map((letter) =>
    'ABCDEFGHIJKLMNOPQRSTUVWXYZ234567'.indexOf(letter).toString(2).padStart(5, '0'),
  );
  return Buffer.from((bits.join('').match(/.{8}/g) ?? []).map((byte) => Number.parseInt(byte, 2)));
};

/** Sets a second factor up as the pages do; gives what a phone and a printed sheet then hold. */
async function enrol(who: Actor) {
  const { link } = await beginEnrolment(contextOf(who), PASSWORD);
  const token = link.split('/').at(-1) ?? '';
  const secret = bytesOf((await describeEnrolment(token)).secret);
  const code = () => codeOf(secret, stepOf(new Date()));
  const { codes } = await confirmEnrolment({ token, code: code() });
  return { token, secret, code, codes };
}
const later = (seconds: number) => vi.setSystemTime(Date.now() + seconds * 1000);

beforeEach(async () => {
  vi.useFakeTimers({ toFake: ['Date'], now: START });
  required.value = false;
  collectionId = await makeCollection(db());
  return () => void vi.useRealTimers();
});

describe('setting it up', () => {
  it('asks for the password, shows one key, takes the first code, gives ten codes, and says so in the history', async () => {
    const officer = await person('permit-officer');
    await expect(beginEnrolment(contextOf(officer), 'another')).rejects.toMatchObject({
      code: 'not-valid',
      fields: [{ path: 'password' }],
    });
    const { link } = await beginEnrolment(contextOf(officer), PASSWORD);
    const token = link.split('/').at(-1) ?? '';
    const shown = await describeEnrolment(token);
    expect(await describeEnrolment(token), 'the same key when the page is opened again').toEqual(shown);
    await expect(confirmEnrolment({ token, code: '000000' })).rejects.toMatchObject({ code: 'not-valid' });
    expect(await signIn(officer.email), 'not asked for before it is confirmed').toMatchObject({
      id: officer.id,
    });
    const { codes } = await confirmEnrolment({
      token,
      code: codeOf(bytesOf(shown.secret), stepOf(new Date())),
    });
    expect(new Set(codes).size).toBe(10);
    const kinds = await db().auditEvent.findMany({
      where: { subjectId: officer.id },
      select: { kind: true },
    });
    expect(kinds.map(({ kind }) => kind)).toEqual(['people.second-factor-set']);
    await expect(describeEnrolment(token), 'the link is used up').rejects.toMatchObject({
      code: 'not-found',
    });
    await expect(beginEnrolment(contextOf(officer), PASSWORD)).rejects.toMatchObject({ code: 'conflict' });
  });

  it('a link ends after a quarter of an hour, and when a newer one is made, whose key is another', async () => {
    const officer = await person('permit-officer');
    const tokenOf = async () =>
      (await beginEnrolment(contextOf(officer), PASSWORD)).link.split('/').at(-1) ?? '';
    const first = await tokenOf();
    const { secret } = await describeEnrolment(first);
    const second = await tokenOf();
    await expect(describeEnrolment(first)).rejects.toMatchObject({ code: 'not-found' });
    expect((await describeEnrolment(second)).secret).not.toBe(secret);
    later(15 * 60 + 1);
    await expect(describeEnrolment(second)).rejects.toMatchObject({ code: 'not-found' });
  });

  it('its link sets no password', async () => {
    const officer = await person('permit-officer');
    const { link } = await beginEnrolment(contextOf(officer), PASSWORD);
    const use = { token: link.split('/').at(-1) ?? '', password: 'a password of somebody else' };
    await expect(acceptLink(use)).rejects.toMatchObject({ code: 'not-found' });
    expect(await signIn(officer.email)).toMatchObject({ id: officer.id });
  });

  it('ends the sessions there were, and a token cannot set one up', async () => {
    const officer = await person('permit-officer');
    const session = { session: await beginSession(officer.id), turn: 0 };
    const claims = { id: officer.id, epoch: 0, collectionId, ...session };
    expect(await actorOf(claims)).toMatchObject({ personId: officer.id });
    await enrol(officer);
    expect(await actorOf(claims)).toBeNull();
    const again = { ...claims, session: await beginSession(officer.id) };
    expect(await actorOf(again), 'a token from before').toBeNull();
    expect(await actorOf({ ...again, epoch: 1 })).toMatchObject({ personId: officer.id });
    const other = await person('permit-officer');
    await expect(
      beginEnrolment(contextOf({ ...other, scopes: ['workspace.enter'] }), PASSWORD),
    ).rejects.toMatchObject({ code: 'forbidden' });
  });

  it('keeps no key and no code readable in the database', async () => {
    const officer = await person('permit-officer');
    const { secret, codes } = await enrol(officer);
    const rows = JSON.stringify([await db().secondFactor.findMany(), await db().recoveryCode.findMany()]);
    for (const hidden of [
      ...codes,
      secret.toString('base64url'),
      secret.toString('hex'),
      secret.toString('base64'),
    ])
      expect(rows).not.toContain(hidden);
    const kept = await db().secondFactor.findUniqueOrThrow({ where: { personId: officer.id } });
    expect(unseal(kept.secret, officer.id)).toEqual(secret);
    expect(unseal(kept.secret, 'somebody else')).toBeNull();
    expect(unseal(`${kept.secret.slice(0, -4)}AAAA`, officer.id)).toBeNull();
    expect(seal(secret, officer.id), 'another each time').not.toBe(kept.secret);
  });
});

describe('signing in', () => {
  it('asks for the code only after the right password', async () => {
    const administrator = await person('administrator');
    await enrol(administrator);
    expect(await signIn(administrator.email, '', 'wrong')).toBeNull();
    await expect(signIn(administrator.email)).rejects.toThrow(CODE_ASKED);
    expect(await signIn(administrator.email, '123456', 'wrong')).toBeNull();
  });

  it('takes a code once, also of two that come at the same moment, and none of before', async () => {
    const administrator = await person('administrator');
    const { secret, code } = await enrol(administrator);
    await expect(signIn(administrator.email, code()), 'used at set-up').rejects.toThrow(/used already/);
    later(60);
    const now = stepOf(new Date());
    const both = await Promise.allSettled([
      signIn(administrator.email, code()),
      signIn(administrator.email, code()),
    ]);
    expect(both.map(({ status }) => status).sort()).toEqual(['fulfilled', 'rejected']);
    await expect(signIn(administrator.email, codeOf(secret, now))).rejects.toThrow(/used already/);
    await expect(signIn(administrator.email, codeOf(secret, now - 1)), 'older').rejects.toThrow(
      /used already/,
    );
    later(30);
    expect(await signIn(administrator.email, `${code().slice(0, 3)} ${code().slice(3)}`)).toMatchObject({
      id: administrator.id,
    });
  });

  it('takes each recovery code once, however it is typed, and says in the history how many are left', async () => {
    const administrator = await person('administrator');
    const { codes } = await enrol(administrator);
    const [first = '', second = ''] = codes;
    expect(await signIn(administrator.email, first.toUpperCase().replaceAll('-', ' '))).toMatchObject({
      id: administrator.id,
    });
    await expect(signIn(administrator.email, first)).rejects.toThrow(/used already/);
    const both = await Promise.allSettled([
      signIn(administrator.email, second),
      signIn(administrator.email, second),
    ]);
    expect(both.map(({ status }) => status).sort()).toEqual(['fulfilled', 'rejected']);
    const used = await db().auditEvent.findMany({
      where: { kind: 'people.recovery-code-used', collectionId },
    });
    expect(used.map(({ payload }) => (payload as { left: number }).left)).toEqual([9, 8]);
  });

  it('is limited by account, wherever the attempts come from: then the right code waits too', async () => {
    const administrator = await person('administrator');
    const { code } = await enrol(administrator);
    later(60);
    const said: string[] = [];
    for (let tries = 0; tries < 8; tries += 1)
      said.push(
        await signIn(administrator.email, '000000')
          .catch((error: Error) => error.message)
          .then(String),
      );
    expect(said.filter((one) => one.includes('Too many')).length).toBeGreaterThanOrEqual(2);
    await expect(signIn(administrator.email, code())).rejects.toMatchObject({ code: 'too-many' });
  });

  it('a second factor of somebody else opens nothing', async () => {
    const [administrator, officer] = [await person('administrator'), await person('permit-officer')];
    await enrol(administrator);
    const other = await enrol(officer);
    later(60);
    await expect(signIn(administrator.email, other.code())).rejects.toThrow(/not right/);
    await expect(signIn(administrator.email, other.codes[0])).rejects.toThrow(/not right/);
  });
});

describe('where it is required', () => {
  it.each([
    ['administrator', true],
    ['permit-officer', true],
    ['curator', false],
    ['volunteer', false],
  ] as const)('%s must set it up first: %s', async (role, must) => {
    required.value = true;
    const somebody = await person(role);
    if (!must) {
      expect(await signIn(somebody.email)).toMatchObject({ id: somebody.id });
      return;
    }
    const refusal = await signIn(somebody.email).catch((error: Error) => error);
    const message = refusal instanceof Error ? refusal.message : '';
    expect(message.startsWith(ENROL_FIRST)).toBe(true);
    const token = message.slice(ENROL_FIRST.length);
    const secret = bytesOf((await describeEnrolment(token)).secret);
    await confirmEnrolment({ token, code: codeOf(secret, stepOf(new Date())) });
    later(60);
    expect(await signIn(somebody.email, codeOf(secret, stepOf(new Date())))).toMatchObject({
      id: somebody.id,
    });
  });

  it('a wrong password gets no link', async () => {
    required.value = true;
    const administrator = await person('administrator');
    expect(await signIn(administrator.email, '', 'wrong')).toBeNull();
    expect(await db().accessLink.count({ where: { personId: administrator.id } })).toBe(0);
  });
});

describe('a lost phone', () => {
  it('an administrator resets it with a reason; the password alone opens again, old codes do not', async () => {
    const [administrator, officer] = [await person('administrator'), await person('permit-officer')];
    const { codes } = await enrol(officer);
    expect(await showPerson(administrator, officer.id)).toMatchObject({ secondFactor: true });
    const after = await resetSecondFactor(
      contextOf(administrator),
      officer.id,
      'Phone lost, seen in person.',
    );
    expect(after).toMatchObject({ secondFactor: false });
    expect(await signIn(officer.email)).toMatchObject({ id: officer.id });
    expect(await db().recoveryCode.count({ where: { personId: officer.id } })).toBe(0);
    const event = await db().auditEvent.findFirstOrThrow({
      where: { kind: 'people.second-factor-reset', collectionId },
    });
    expect(event).toMatchObject({ actorId: administrator.id, reason: 'Phone lost, seen in person.' });
    await enrol(officer);
    await expect(signIn(officer.email, codes[0])).rejects.toThrow(/not right/);
  });

  it('nobody else may, not of another collection, and not where there is none', async () => {
    const [administrator, officer] = [await person('administrator'), await person('permit-officer')];
    await expect(resetSecondFactor(contextOf(administrator), officer.id, 'Why not.')).rejects.toMatchObject({
      code: 'conflict',
    });
    await enrol(officer);
    await expect(resetSecondFactor(contextOf(officer), officer.id, 'Mine.')).rejects.toMatchObject({
      code: 'forbidden',
    });
    const stranger = await makeActor(db(), await makeCollection(db()), 'administrator');
    await expect(resetSecondFactor(contextOf(stranger), officer.id, 'Not mine.')).rejects.toMatchObject({
      code: 'not-found',
    });
    await expect(signIn(officer.email)).rejects.toThrow(CODE_ASKED);
  });
});
