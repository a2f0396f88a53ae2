export interface NastyFile {
  name: string;
  bytes: Buffer;
  /** Limits made small where the real ones would need a huge file. */
  limits?: {
    fileBytes?: number;
    rows?: number;
    columns?: number;
    recordCharacters?: number;
    unpackedBytes?: number;
    parts?: number;
  };
  outcome:
    | { refused: string; saying?: string }
    | {
        header: string[];
        /** Cells of every row. */
        rows: string[][];
        problems?: number;
        note?: string;
        encoding?: string;
        delimiter?: string;
      };
}

/** One plain sheet, and how it reads; other files hold it in other ways. */
export const HEAD = ['Species', 'Sex', 'Wing'];
export const BIRD = ['Turdus migratorius', 'F', '128.5'];
export const CSV = `${HEAD.join(',')}\n${BIRD.join(',')}\n`;
