/** Cells as a row of a Markdown table. */
export const row = (cells: readonly (string | number)[]): string => `| ${cells.join(' | ')} |`;
/** The head of such a table with the line under it. */
export const header = (cells: readonly string[]): string[] => [row(cells), row(cells.map(() => '---'))];
