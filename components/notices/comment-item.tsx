'use client';

import { Button } from '@mantine/core';
import { type FormEvent, useState } from 'react';
import { ConfirmInline } from '@/components/ui/confirm-inline';
import { Link } from '@/components/ui/link';
import { Moment } from '@/components/ui/moment';
import { problemOf } from '@/components/ui/problem';
import { sayWith } from '@/components/ui/say-with';
import { piecesOf, toStored, toTyped } from '@/lib/notices/rules/mentions';
import { noticeHref } from '@/lib/notices/rules/sentences';
import type { CommentRow, Subject } from '@/lib/notices/schema';
import { say } from '@/lib/platform/words/say';
import { CommentProblem } from './comment-problem';
import classes from './comments.module.css';
import { MentionBox } from './mention-box';
import { useEditComment, useWithdrawComment } from './queries';

/** One comment: who, when, on what; the words, or that they were withdrawn; what its author may do with it. */
export function CommentItem({ comment, subject }: { comment: CommentRow; subject: Subject }) {
  const [editing, setEditing] = useState(false);
  const withdraw = useWithdrawComment(comment.id);
  const { author, of, field, createdAt, editedAt, withdrawnAt, abilities } = comment;
  return (
    <li className={classes.comment}>
      <p className={classes.who}>
        <b>{author.name}</b> <Moment at={createdAt} show="both" />
        {of === null
          ? null
          : sayWith(' on {link}', {
              link: (
                <Link href={noticeHref('notices.commented', comment.subjectType, comment.subjectId)}>
                  {of}
                </Link>
              ),
            })}
        {field === null ? null : say(', about {field}', { field })}
        {editedAt === null
          ? null
          : sayWith(', changed {moment}', { moment: <Moment at={editedAt} show="both" /> })}
      </p>
      {comment.text === null ? (
        <p className={classes.quiet}>
          {sayWith('Withdrawn{x}.', {
            x:
              withdrawnAt === null ? null : (
                <>
                  {' '}
                  <Moment at={withdrawnAt} show="both" />
                </>
              ),
          })}
        </p>
      ) : editing ? (
        <EditForm comment={comment} text={comment.text} subject={subject} onDone={() => setEditing(false)} />
      ) : (
        <CommentText text={comment.text} people={comment.people} />
      )}
      {abilities.change && !editing ? (
        <div className={classes.acts}>
          <Button size="compact-sm" variant="subtle" onClick={() => setEditing(true)}>
            {say('Change')}
          </Button>
          <ConfirmInline
            act={say('Withdraw')}
            question={say('The words go for good; that you commented here stays.')}
            confirm={say('Withdraw it')}
            onConfirm={() => withdraw.mutateAsync(comment.version)}
          />
        </div>
      ) : null}
      {withdraw.error ? <p role="alert">{problemOf(withdraw.error).title}</p> : null}
    </li>
  );
}

/** The words as they were typed, people by their names; never anything but text. */
export function CommentText({ text, people }: Pick<CommentRow, 'people'> & { text: string }) {
  let at = 0;
  return (
    <p className={classes.text}>
      {piecesOf(text).map((piece) => {
        const key = at;
        at += 'words' in piece ? piece.words.length : piece.personId.length;
        if ('words' in piece) return <span key={key}>{piece.words}</span>;
        return (
          <b key={key} className={classes.mention}>
            @{people.find(({ id }) => id === piece.personId)?.name ?? say('somebody who left')}
          </b>
        );
      })}
    </p>
  );
}

function EditForm({
  comment,
  text,
  subject,
  onDone,
}: {
  comment: CommentRow;
  text: string;
  subject: Subject;
  onDone: () => void;
}) {
  const edit = useEditComment(comment.id);
  const [typed, setTyped] = useState(() => toTyped(text, comment.people));
  const [chosen, setChosen] = useState(comment.people);
  const submit = (event: FormEvent) => {
    event.preventDefault();
    edit.mutate({ version: comment.version, text: toStored(typed, chosen) }, { onSuccess: onDone });
  };
  return (
    <form onSubmit={submit} className={classes.form} noValidate>
      <MentionBox
        label={say('Your comment')}
        subject={subject}
        value={typed}
        onChange={setTyped}
        onChoose={(person) => setChosen((before) => [...before, person])}
      />
      <CommentProblem error={edit.error} />
      <div className={classes.acts}>
        <Button type="submit" disabled={typed.trim() === ''} loading={edit.isPending}>
          {say('Save')}
        </Button>
        <Button variant="default" onClick={onDone}>
          {say('Leave it as it was')}
        </Button>
      </div>
    </form>
  );
}
