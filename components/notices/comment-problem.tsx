import { problemOf } from '@/components/ui/problem';
import classes from './comments.module.css';

/** Why a comment was not taken, with what is wrong in it. */
export function CommentProblem({ error }: { error: unknown }) {
  if (error === null) return null;
  const { title, fields = [] } = problemOf(error);
  return (
    <p role="alert" className={classes.problem}>
      {title} {fields.map(({ message }) => message).join(' ')}
    </p>
  );
}
