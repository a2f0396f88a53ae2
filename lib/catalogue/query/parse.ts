import { say } from '@/lib/platform/words/say';
import { readField } from './fields';
import { joinQueries, type ParsedQuery, type Query, type QueryProblem } from './schema';
import { type Token, tokenize } from './tokens';
import { type QueryContext, readWords } from './words';

/** Deeper brackets than this are not read, so that no text can exhaust the stack. */
const MAX_DEPTH = 40;
export const MAX_QUERY_LENGTH = 2000;

class Reader {
  readonly problems: QueryProblem[];
  private at = 0;

  constructor(
    private readonly tokens: readonly Token[],
    private readonly context: QueryContext,
    problems: QueryProblem[],
  ) {
    this.problems = problems;
  }

  private get next(): Token | undefined {
    return this.tokens[this.at];
  }

  private complain({ at, length }: Token, message: string): void {
    this.problems.push({ at, length, message });
  }

  readAll(): Query | null {
    const parts: (Query | null)[] = [this.readOr(0)];
    while (this.next !== undefined) {
      this.complain(this.next, say('A bracket is closed that was not opened.'));
      this.at += 1;
      parts.push(this.readOr(0));
    }
    return joinQueries('and', parts);
  }

  private readOr(depth: number): Query | null {
    const parts = [this.readAnd(depth)];
    while (this.next?.type === 'or') {
      const joint = this.next;
      this.at += 1;
      const part = this.readAnd(depth);
      if (part === null || parts.at(-1) === null) this.complain(joint, say('One side of “or” is empty.'));
      parts.push(part);
    }
    return joinQueries('or', parts);
  }

  private readAnd(depth: number): Query | null {
    const parts: (Query | null)[] = [];
    while (this.next !== undefined && this.next.type !== 'or' && this.next.type !== 'close') {
      if (this.next.type === 'and') this.at += 1;
      else if (this.next.type === 'word') parts.push(this.readWordRun());
      else parts.push(this.readOne(depth));
    }
    return joinQueries('and', parts);
  }

  /** Words that follow each other are read together: "5 March 2024", "Turdus migratorius". */
  private readWordRun(): Query | null {
    const words: string[] = [];
    while (this.next?.type === 'word') {
      words.push(this.next.text);
      this.at += 1;
    }
    return readWords(words, this.context);
  }

  private readOne(depth: number): Query | null {
    const token = this.next;
    if (token === undefined) return null;
    this.at += 1;
    switch (token.type) {
      case 'not':
        return this.readNot(token, depth);
      case 'open':
        return this.readBracket(token, depth);
      case 'phrase':
        return token.text === '' ? null : { kind: 'term', field: 'words', text: token.text };
      case 'field': {
        const term = readField(token.name, token.values);
        if (typeof term !== 'string') return term;
        this.complain(token, term);
        return null;
      }
      case 'word':
        return readWords([token.text], this.context);
      default:
        this.complain(token, say('This stands where a word was expected.'));
        return null;
    }
  }

  private readNot(token: Token, depth: number): Query | null {
    if (
      depth >= MAX_DEPTH ||
      this.next === undefined ||
      this.next.type === 'or' ||
      this.next.type === 'close'
    ) {
      this.complain(token, say('Nothing follows “not”.'));
      return null;
    }
    const of = this.readOne(depth + 1);
    if (of === null) return null;
    return of.kind === 'not' ? of.of : { kind: 'not', of };
  }

  private readBracket(token: Token, depth: number): Query | null {
    if (depth >= MAX_DEPTH) {
      this.complain(token, say('Too many brackets within each other.'));
      return null;
    }
    const inner = this.readOr(depth + 1);
    if (this.next?.type === 'close') this.at += 1;
    else this.complain(token, say('The bracket is not closed.'));
    return inner;
  }
}

/**
 * Reads the search box. Never throws: what is not understood is left out and told of, with its place in the text.
 * Words stand side by side for "and"; "or" binds less; "not" or a dash excludes what follows; brackets group.
 */
export function parseQuery(text: string, context: QueryContext): ParsedQuery {
  const problems: QueryProblem[] = [];
  const read = text.slice(0, MAX_QUERY_LENGTH);
  if (read.length < text.length)
    problems.push({
      at: MAX_QUERY_LENGTH,
      length: text.length - read.length,
      message: say('Too long: the rest was not read.'),
    });
  const { tokens, problems: torn } = tokenize(read);
  const reader = new Reader(tokens, context, [...problems, ...torn]);
  const query = reader.readAll();
  return { query, problems: reader.problems };
}
