import type { NastyFile } from './nasty-file';
import { foreignFiles, textFiles } from './nasty-text-files';
import { workbooks } from './nasty-workbooks';

/** Files as they come from outside, each with its right outcome. */
export async function nastyFiles(): Promise<NastyFile[]> {
  return [...textFiles(), ...foreignFiles(), ...(await workbooks())];
}
