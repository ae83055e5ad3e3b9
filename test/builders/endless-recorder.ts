import { startRecording } from '../../main/files/recording.ts'
import { recordingHeader, recordingSample } from './recording-header.ts'

/** Records and flushes until it is killed. A program of its own, so that a kill is a real one. Usage: endless-recorder.ts FOLDER */
const started = startRecording(process.argv[2] ?? '', recordingHeader)
if (!started.ok) throw new Error(started.failure)
for (let n = 0; ; n++) {
  started.value.note(recordingSample(n * 10, String(n)))
  if (n % 7 === 6) started.value.flush()
  if (n === 100) process.stdout.write('ready\n')
}
