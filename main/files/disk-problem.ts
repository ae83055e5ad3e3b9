/** One sentence for people about what the file system refused. */
export function describeDiskProblem(cause: unknown): string {
  const code = cause instanceof Error && 'code' in cause ? cause.code : undefined
  if (code === 'ENOENT') return 'There is no such file or folder.'
  if (code === 'EACCES' || code === 'EPERM' || code === 'EROFS')
    return 'The folder cannot be written to; choose another place or change its permissions.'
  if (code === 'ENOSPC') return 'The disk is full.'
  return cause instanceof Error ? cause.message : String(cause)
}

/** The same about a file that could not be read. */
export function describeReadProblem(cause: unknown): string {
  const code = cause instanceof Error && 'code' in cause ? cause.code : undefined
  if (code === 'EACCES' || code === 'EPERM') return 'This user may not read the file; change its permissions, or have it copied.'
  return code === 'EISDIR' ? 'This is a folder; a file is needed.' : describeDiskProblem(cause)
}
