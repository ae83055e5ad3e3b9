import { copyJob } from '../../main/files/copy-job.ts'

/** Copies one job under names in turn until it is killed. Usage: endless-copier.ts JOB FOLDER */
const [from = '', folder = ''] = process.argv.slice(2)
process.stdout.write('ready\n')
for (let n = 0; ; n++) await copyJob(from, `${folder}/copy-${n}.job.json`)
