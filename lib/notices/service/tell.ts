import 'server-only';
import { systemActor } from '@/lib/platform/actor';
import { canMail } from '@/lib/platform/mail';
import type { Role } from '@/lib/platform/permissions';
import { withTx } from '@/lib/platform/tx';
import { noticeEvents } from '../events';
import { readContent } from '../kinds';
import { findTold, findWishes, insertNotices } from '../repo/notices';
import { findMembers, findSubject } from '../repo/subjects';
import { whoIsTold } from '../rules/telling';
import type { Announcement } from '../schema';

export const MAIL_TASK = 'notices.mail';

/**
 * Tells people of one announcement; returns how many. The same announcement again tells nobody twice, and what was
 * removed meanwhile is told to nobody.
 */
export async function tell(said: Announcement): Promise<number> {
  const { collectionId, subjectType, subjectId } = said;
  const content = readContent(said.kind, said.facts);
  return withTx({ actor: systemActor(collectionId) }, async (work) => {
    const subject = await findSubject(work.db, collectionId, subjectType, subjectId);
    if (subject === null) return 0;
    const members = await findMembers(work.db, collectionId, { ids: said.to.people, roles: said.to.roles });
    const ids = members.map(({ id }) => id);
    const wishes = await findWishes(work.db, ids, said.kind);
    const told = await findTold(work.db, said.id);
    const tellings = whoIsTold(
      { kind: said.kind, subjectType, sensitive: subject.sensitive, byId: said.byId },
      members
        .filter(({ id }) => !told.has(id))
        .map(({ id, active, roles }) => ({
          personId: id,
          active,
          roles: roles as Role[],
          wish: wishes.find(({ personId }) => personId === id) ?? null,
        })),
      canMail(),
    );
    if (tellings.length === 0) return 0;
    const made = await insertNotices(
      work.db,
      tellings.map((telling) => ({
        ...telling,
        collectionId,
        kind: said.kind,
        subjectType,
        subjectId,
        facts: content.facts,
        announcementId: said.id,
        createdAt: said.at,
      })),
    );
    for (const { id } of made.filter(({ mail }) => mail === 'at-once'))
      work.enqueue(MAIL_TASK, { noticeId: id }, { jobKey: `mail-${id}` });
    work.audit(
      noticeEvents.make('notices.told', { subjectType, subjectId }, { kind: said.kind, people: made.length }),
    );
    return made.length;
  });
}
