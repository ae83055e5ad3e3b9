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

/** A long path without its middle, so that where it begins and the file itself are seen: "/home/ann/…/site.job/scale.profile.json". */
export function shortPath(path: string, most = 48): string {
  if (path.length <= most) return path
  const tail = Math.ceil((most - 1) * 0.7)
  return `${path.slice(0, most - 1 - tail)}…${path.slice(-tail)}`
}
