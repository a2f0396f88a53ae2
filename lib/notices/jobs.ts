import 'server-only';
import type { CronItem, TaskList } from 'graphile-worker';
import { z } from 'zod';
import { announcement } from './schema';
import { TELL_TASK } from './service/announce';
import { listDueDigests, mailDigest, mailNotice } from './service/mailing';
import { MAIL_TASK, tell } from './service/tell';

const DIGEST_TASK = 'notices.mail-digest';
const DIGESTS_TASK = 'notices.digests';

const oneNotice = z.object({ noticeId: z.uuid() });
const oneReader = z.object({ collectionId: z.uuid(), personId: z.uuid() });

/** Background work of the notices: telling people, mailing at once, and the mail of the day. */
export const noticeTasks: TaskList = {
  [TELL_TASK]: async (payload) => {
    await tell(announcement.parse(payload));
  },
  [MAIL_TASK]: (payload) => mailNotice(oneNotice.parse(payload).noticeId),
  [DIGEST_TASK]: async (payload) => {
    const { collectionId, personId } = oneReader.parse(payload);
    await mailDigest(collectionId, personId);
  },
  [DIGESTS_TASK]: async (_payload, { addJob }) => {
    for (const due of await listDueDigests())
      await addJob(DIGEST_TASK, due, { jobKey: `digest-${due.collectionId}-${due.personId}` });
  },
};

/** Each hour, so that a morning the worker slept through is made up for. */
export const noticeCron: CronItem[] = [{ task: DIGESTS_TASK, match: '10 * * * *' }];
