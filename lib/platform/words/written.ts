import 'server-only';
import { AppError } from '../errors';
import { currentLanguage, inLanguage, type SaidTexts } from './ambient-server';

/**
 * Runs work that writes: what it says is English, whoever asked for it, because what is written down is read by all.
 * What it refuses is said again in the language of whoever asked.
 */
export async function writtenInEnglish<T>(work: () => Promise<T>): Promise<T> {
  if (currentLanguage() === 'en') return work();
  const said: SaidTexts = new Map();
  try {
    return await inLanguage('en', work, said);
  } catch (error) {
    throw error instanceof AppError ? sayAgain(error, said) : error;
  }
}

function sayAgain(error: AppError, said: SaidTexts): AppError {
  const { code, message, fields, data, detail } = error;
  return new AppError(code, sentenceAgain(message, said), {
    fields: fields.map((field) => ({ ...field, message: sentenceAgain(field.message, said) })),
    data,
    detail,
    cause: error,
  });
}

/** A sentence of `said`, and what stood in it, in the language of now. */
const sentenceAgain = (sentence: string, said: SaidTexts): string =>
  said.get(sentence)?.((part) => (part === sentence ? part : sentenceAgain(part, said))) ?? sentence;
