'use client';

import { Button } from '@mantine/core';
import { useInfiniteQuery } from '@tanstack/react-query';
import { ErrorState } from '@/components/ui/error-state';
import { Loading } from '@/components/ui/loading';
import { problemOf } from '@/components/ui/problem';
import type { Subject } from '@/lib/notices/schema';
import { countOf, say } from '@/lib/platform/words/say';
import { CommentItem } from './comment-item';
import classes from './comments.module.css';
import { NewComment } from './new-comment';
import { commentsOptions, useFollow } from './queries';

/** The comments on a record in the order they came, the form for one more, and following. */
export function Comments({ subject }: { subject: Subject }) {
  const comments = useInfiniteQuery(commentsOptions(subject));
  if (comments.error)
    return (
      <ErrorState
        what={say('The comments could not be loaded.')}
        error={comments.error}
        onRetry={() => void comments.refetch()}
      />
    );
  const first = comments.data?.pages[0];
  if (comments.data === undefined || first === undefined)
    return <Loading what={say('Loading the comments')} lines={3} />;
  const rows = comments.data.pages.flatMap((page) => page.rows).reverse();
  return (
    <div className={classes.talk}>
      {comments.hasNextPage ? (
        <Button
          variant="default"
          loading={comments.isFetchingNextPage}
          onClick={() => void comments.fetchNextPage()}
        >
          {say('Show earlier comments')}
        </Button>
      ) : null}
      {rows.length === 0 ? (
        <p className={classes.quiet}>{say('Nobody has said anything yet.')}</p>
      ) : (
        <ol className={classes.comments} aria-label={say('Comments, the oldest first')}>
          {rows.map((row) => (
            <CommentItem key={row.id} comment={row} subject={subject} />
          ))}
        </ol>
      )}
      {first.withheld > 0 ? (
        <p className={classes.quiet}>
          {say('{of} of others not shown: of this taxon, words may say where the bird was found.', {
            of: countOf(first.withheld, 'comment'),
          })}
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
      {following
        ? say('You are told of new comments here.')
        : say('You are told only when somebody mentions you.')}{' '}
      <Button
        size="compact-sm"
        variant="subtle"
        loading={follow.isPending}
        onClick={() => follow.mutate(!following)}
      >
        {following ? say('Stop following') : say('Follow')}
      </Button>
      {follow.error ? <span role="alert"> {problemOf(follow.error).title}</span> : null}
    </p>
  );
}
