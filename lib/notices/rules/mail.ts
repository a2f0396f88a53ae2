import { paths } from '@/lib/platform/paths';
import { phrases, say } from '@/lib/platform/words/say';
import type { NoticeContent, NoticeKind } from '../kinds';
import type { NoticeSubject } from '../schema';
import { noticeHref, sayNotice } from './sentences';

export type MailedNotice = NoticeContent & { subjectType: NoticeSubject; subjectId: string };
export type Letter = { subject: string; text: string };

const MOST_LINES = 40;

/** Headings of a day's mail, in this order, with the stages whose kinds stand under each. */
const GROUPS: readonly { title: string; stages: readonly string[] }[] = phrases([
  { title: 'Said in comments', stages: ['notices'] },
  { title: 'Holds', stages: ['salvage'] },
  { title: 'Permits and reports', stages: ['permits'] },
  { title: 'Birds in my hands', stages: ['queue'] },
  { title: 'Bench records', stages: ['bench', 'catalogue'] },
  { title: 'Loans', stages: ['loans'] },
  { title: 'Webhooks', stages: ['exchange'] },
]);

const stageOf = (kind: NoticeKind): string => kind.split('.')[0] ?? '';

/** Notices under their headings, in the order they came; headings without any are left out. */
export function groupNotices<N extends { kind: NoticeKind }>(
  notices: readonly N[],
): { title: string; notices: N[] }[] {
  return GROUPS.map(({ title, stages }) => ({
    title,
    notices: notices.filter(({ kind }) => stages.includes(stageOf(kind))),
  })).filter((group) => group.notices.length > 0);
}

/** An address below the installation's own; null where it is not known from outside. */
const link = (base: string | null, path: string): string | null =>
  base === null ? null : `${base.replace(/\/+$/, '')}${path}`;

/** Why this mail came and how it ends. */
const foot = (base: string | null): string =>
  `-- \nYou get this because you work in this collection. Choose what is mailed to you: ${
    link(base, paths.noticePreferences) ?? say('in Furcula, under Notices, “What I am told”')
  }\n`;

const lineOf = (notice: MailedNotice, base: string | null): string => {
  const at = link(base, noticeHref(notice.kind, notice.subjectType, notice.subjectId));
  return at === null ? sayNotice(notice) : `${sayNotice(notice)}\n${at}`;
};

/** One notice as a mail of its own. */
export const letterOf = (notice: MailedNotice, base: string | null): Letter => ({
  subject: sayNotice(notice),
  text: `${lineOf(notice, base)}\n\n${foot(base)}`,
});

/** A day's notices as one mail; of very many the first, and how many more there are. */
export function digestOf(notices: readonly MailedNotice[], collection: string, base: string | null): Letter {
  const shown = notices.slice(0, MOST_LINES);
  const parts = groupNotices(shown).map(
    ({ title, notices: group }) =>
      `${title}\n\n${group.map((notice) => `* ${lineOf(notice, base).replace('\n', '\n  ')}`).join('\n')}`,
  );
  const more = notices.length - shown.length;
  if (more > 0)
    parts.push(
      say('And {more} more: {link}', {
        more,
        link: link(base, paths.notices) ?? say('see Notices in Furcula'),
      }),
    );
  const count = notices.length === 1 ? say('1 notice') : say('{length} notices', { length: notices.length });
  return { subject: `${count}: ${collection}`, text: `${parts.join('\n\n')}\n\n${foot(base)}` };
}
