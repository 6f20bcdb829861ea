/* program.h: this very program, started anew for one command, within limits. */
#ifndef KILNSTOW_WEB_PROGRAM_H
#define KILNSTOW_WEB_PROGRAM_H

#include "kilnstow/arena.h"
#include "kilnstow/error.h"

#include <stdbool.h>
#include <sys/types.h>

/* What one command, one job or one drag may take. */
enum { KS_PROGRAM_SECONDS = 120, KS_PROGRAM_ANSWER_MOST = 16 * 1024 * 1024 };

typedef struct {
    const char *folder,
        *trial;           /* real paths; it works in the trial's where there is one, else NULL */
    const char *language; /* of what people read in its answer; NULL = English */
    const char *const *words; /* "place", "--json", …; NULL behind the last */
} ks_program_start;

typedef struct {
    pid_t pid;
    int out;  /* its standard output, to be read */
    int said; /* its standard error, in memory */
} ks_program;

ks_status ks_program_start_it(const ks_program_start *start, ks_program *out, ks_error *err);

/* In a child: what it may take of the machine from now on, and no descriptor but standard ones and
 * `kept` (-1 = none) stays open. */
void ks_program_limit(int kept, int seconds);

/* In such a child: how long the processor may work for it from now on. */
void ks_program_seconds(int seconds);

/* In a child that is no program anew: reads and prints nothing of the server's own, and works in
 * this folder. False where that is not to be had. */
bool ks_program_stands_in(const char *folder);

/* Ends it at once where `kills`; waits for its end, which its closed output announces, and closes
 * all. Returns how it ended, as waitpid() has it. */
int ks_program_end(ks_program *program, bool kills);

/* The first line that it wrote to standard error; "" for none. */
const char *ks_program_said(const ks_program *program, ks_arena *arena);

#endif
