/** Something the person at the terminal must put right; its message is one clear sentence, shown without a trace. */
export class OperatorError extends Error {
  override readonly name = 'OperatorError';
}

/** The sentence to show for an error: the message of an OperatorError, the whole trace of anything unforeseen. */
export function explainError(error: unknown): string {
  if (error instanceof OperatorError) return error.message;
  return error instanceof Error ? (error.stack ?? error.message) : String(error);
}
