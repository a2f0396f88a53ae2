import { problemOf } from '@/components/ui/problem';
import classes from './problems.module.css';

/** Why a command was refused, with each field's sentence. */
export function Problems({ error }: { error: unknown }) {
  if (error === null || error === undefined) return null;
  const problem = problemOf(error);
  return (
    <div role="alert" className={classes.problems}>
      <p>{problem.title}</p>
      <ul>
        {problem.fields?.map(({ message }) => (
          <li key={message}>{message}</li>
        ))}
      </ul>
    </div>
  );
}
