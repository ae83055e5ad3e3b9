/** A file name made of what a job is called: "Mill 4, south" gives mill-4-south. */
export function fileNameFor(name: string): string {
  return name
    .normalize('NFKD')
    .replace(/\p{M}/gu, '')
    .toLowerCase()
    .replace(/[^\p{L}\p{N}]+/gu, '-')
    .replace(/^-|-$/g, '')
    .slice(0, 60)
}

/** The folder that a path is in, with its sign at the end; empty for a bare name. */
export const folderOf = (path: string): string => /^(.*[/\\])?/.exec(path)?.[0] ?? ''
