import { meaningOf } from './meanings.ts'

/** What people call a setting; one that has no name here is shown by its register name. */
export function settingWords(key: string, channels = 1): string {
  const [name = key, channel] = key.split('@')
  const said = meaningOf(name)?.words ?? name
  return channel !== undefined && channels > 1 ? `${said}, channel ${channel}` : said
}
