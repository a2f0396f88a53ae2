'use client';

import { Section } from '@/components/ui/facts';
import { whenSeen } from '@/components/ui/later';
import type { Subject } from '@/lib/notices/schema';
import { say } from '@/lib/platform/words/say';

const Comments = whenSeen(() => import('./comments').then((module) => module.Comments), 3);

/** What people say about a record, as a section of its page. */
export function CommentsSection({ subject }: { subject: Subject }) {
  return (
    <Section id="comments" title={say('Comments')}>
      <Comments subject={subject} />
    </Section>
  );
}
