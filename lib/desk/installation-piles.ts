import 'server-only';
import type { Actor } from '@/lib/platform/actor';
import { dayOf } from '@/lib/platform/clock';
import { settings } from '@/lib/platform/env';
import { REQUIRED_OF } from '@/lib/platform/identity/second-factor';
import { paths } from '@/lib/platform/paths';
import { may } from '@/lib/platform/permissions';
import { sayDay } from '@/lib/platform/say-dates';
import { findTroubledJobs, readBackups } from '@/lib/platform/system';
import { say } from '@/lib/platform/words/say';
import { findGivenUpWebhooks, findInvited, findWithoutSecondFactor } from './repo/installation';
import { SHOWN } from './repo/piles';
import { judgeBackup, judgeJob, TASK_WORDS } from './rules/installation';
import type { DeskPile } from './schema';

const sayAt = (at: Date) => sayDay(dayOf(at));

/** What an administrator looks after, as far as this person is one: work, backups, webhooks, accounts. */
export function installationPiles(actor: Actor, at: Date): Promise<DeskPile>[] {
  return [
    ...(may(actor, 'settings.manage') ? [jobPile(at), backupPile(at)] : []),
    ...(may(actor, 'webhooks.manage') ? [webhookPile(actor)] : []),
    ...(may(actor, 'people.manage') ? [factorPile(actor), invitedPile(actor, at)] : []),
  ];
}

async function jobPile(at: Date): Promise<DeskPile> {
  const jobs = await findTroubledJobs(at, SHOWN);
  return {
    id: 'jobs',
    title: say('Background work to look at'),
    empty: say('No background work failed or waits too long.'),
    total: jobs[0]?.total ?? 0,
    items: jobs.map((job) => ({
      id: job.id,
      label: TASK_WORDS[job.task] ?? job.task,
      scientificName: null,
      ...judgeJob(job, at),
      href: null,
    })),
    href: null,
  };
}

async function backupPile(at: Date): Promise<DeskPile> {
  const { late, note, tone } = judgeBackup(readBackups(), at);
  return {
    id: 'backups',
    title: say('Backups'),
    empty: say('Backups are made. {note}', { note }),
    total: late ? 1 : 0,
    items: late
      ? [{ id: 'newest', label: say('Nightly backup'), scientificName: null, note, tone, href: null }]
      : [],
    href: null,
  };
}

async function webhookPile(actor: Actor): Promise<DeskPile> {
  const rows = await findGivenUpWebhooks(actor.collectionId);
  return {
    id: 'webhooks',
    title: say('Webhooks that were switched off'),
    empty: say('Every webhook that is wanted is on.'),
    total: rows[0]?.total ?? 0,
    items: rows.map(({ id, name, switchedOffAt, reason }) => ({
      id,
      label: name,
      scientificName: null,
      note: `${sayAt(switchedOffAt)}: ${reason ?? say('no reason was given')}`,
      tone: 'attention',
      href: paths.webhooks,
    })),
    href: paths.webhooks,
  };
}

async function factorPile(actor: Actor): Promise<DeskPile> {
  const required = settings().REQUIRE_SECOND_FACTOR;
  const { total, rows } = required
    ? await findWithoutSecondFactor(actor.collectionId, REQUIRED_OF)
    : { total: 0, rows: [] };
  return {
    id: 'second-factor',
    title: say('Must have a second factor, and have none'),
    empty: required
      ? say('Everybody who must have a second factor has one.')
      : say('Nobody must have a second factor here (REQUIRE_SECOND_FACTOR is not set).'),
    total,
    items: rows.map((person) => ({
      id: person.id,
      label: person.name,
      scientificName: null,
      note: say('must set it up at the next sign-in'),
      tone: 'attention',
      href: paths.person(person.id),
    })),
    href: paths.people,
  };
}

async function invitedPile(actor: Actor, at: Date): Promise<DeskPile> {
  const { total, rows } = await findInvited(actor.collectionId, at);
  return {
    id: 'invited',
    title: say('Invited, not here yet'),
    empty: say('Everybody invited has come.'),
    total,
    items: rows.map((person) => ({
      id: person.id,
      label: person.name,
      scientificName: null,
      note: `${person.email}, ${
        person.openUntil === null
          ? say('the link has ended: make a new one')
          : say('link open until {at}', { at: sayAt(person.openUntil) })
      }`,
      tone: person.openUntil === null ? 'attention' : 'neutral',
      href: paths.person(person.id),
    })),
    href: paths.people,
  };
}
