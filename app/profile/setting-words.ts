const words: Record<string, string> = {
  'input.range': 'Input range',
  'excitation.voltage': 'Excitation',
  'filter.time': 'Filter time',
  'filter.cutoff': 'Filter cut-off',
  'reading.decimals': 'Decimals of the reading',
  'reading.unit': 'Unit of the reading',
  'reading.interval': 'Scale interval',
  'scale.lower.signal': 'Lower pair, signal',
  'scale.lower.reading': 'Lower pair, reading',
  'scale.upper.signal': 'Upper pair, signal',
  'scale.upper.reading': 'Upper pair, reading',
  'identity.model': 'Model number',
  'identity.serial': 'Serial number',
  'identity.firmware': 'Firmware',
}

/** What people call a setting; one that has no name here is shown by its register name. */
export function settingWords(key: string, channels = 1): string {
  const [name = key, channel] = key.split('@')
  const said = words[name] ?? name
  return channel !== undefined && channels > 1 ? `${said}, channel ${channel}` : said
}
