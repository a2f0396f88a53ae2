'use client';

import { Button } from '@mantine/core';
import { useInfiniteQuery } from '@tanstack/react-query';
import { ErrorState } from '@/components/ui/error-state';
import { Section } from '@/components/ui/facts';
import { Loading } from '@/components/ui/loading';
import { problemOf } from '@/components/ui/problem';
import { countOf } from '@/components/ui/words';
import type { Subject } from '@/lib/notices/schema';
import { CommentItem } from './comment-item';
import classes from './comments.module.css';
import { NewComment } from './new-comment';
import { commentsOptions, useFollow } from './queries';

/** What people say about a record, as a section of its page. */
export function CommentsSection({ subject }: { subject: Subject }) {
  return (
    <Section id="comments" title="Comments">
      <Comments subject={subject} />
    </Section>
  );
}

/** The comments on a record in the order they came, the form for one more, and following. */
export function Comments({ subject }: { subject: Subject }) {
  const comments = useInfiniteQuery(commentsOptions(subject));
  if (comments.error)
    return (
      <ErrorState
        what="The comments could not be loaded."
        error={comments.error}
        onRetry={() => void comments.refetch()}
      />
    );
  const first = comments.data?.pages[0];
  if (comments.data === undefined || first === undefined)
    return <Loading what="Loading the comments" lines={3} />;
  const rows = comments.data.pages.flatMap((page) => page.rows).reverse();
  return (
    <div className={classes.talk}>
      {comments.hasNextPage ? (
        <Button
          variant="default"
          loading={comments.isFetchingNextPage}
          onClick={() => void comments.fetchNextPage()}
        >
          Show earlier comments
        </Button>
      ) : null}
      {rows.length === 0 ? (
        <p className={classes.quiet}>Nobody has said anything yet.</p>
      ) : (
        <ol className={classes.comments} aria-label="Comments, the oldest first">
          {rows.map((row) => (
            <CommentItem key={row.id} comment={row} subject={subject} />
          ))}
        </ol>
      )}
      {first.withheld > 0 ? (
        <p className={classes.quiet}>
          {countOf(first.withheld, 'comment')} of others not shown: of this taxon, words may say where the
          bird was found.
        </p>
      ) : null}
      {first.abilities.write ? <NewComment subject={subject} sensitive={first.sensitive} /> : null}
      <Following subject={subject} following={first.following} />
    </div>
  );
}

function Following({ subject, following }: { subject: Subject; following: boolean }) {
  const follow = useFollow(subject);
  return (
    <p className={classes.quiet}>
      {following ? 'You are told of new comments here.' : 'You are told only when somebody mentions you.'}{' '}
      <Button
        size="compact-sm"
        variant="subtle"
        loading={follow.isPending}
        onClick={() => follow.mutate(!following)}
      >
        {following ? 'Stop following' : 'Follow'}
      </Button>
      {follow.error ? <span role="alert"> {problemOf(follow.error).title}</span> : null}
    </p>
  );
}
