/* run.h: another program, run to its end. */
#ifndef WF_RUN_H
#define WF_RUN_H

/* Runs argv[0] (a path) with these arguments, its standard output and error into the file `log`.
 * Returns its exit status, or -1 where it could not be run, was killed, or took longer than so many
 * seconds, when it is killed. */
int run_program(const char *const *argv, const char *log, double seconds);

#endif
