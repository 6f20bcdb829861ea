/* speech.h: in which language a command speaks, and printing in it. */
#ifndef KILNSTOW_CLI_SPEECH_H
#define KILNSTOW_CLI_SPEECH_H

#include "base/language.h"
#include "kilnstow/error.h"

#include <stdio.h>

/* What is asked for by KILNSTOW_LANGUAGE and, before that, by --language; English with --json,
 * which is for programs. Call it before anything is told. */
ks_status ks_speech_start(int argc, char **argv, ks_error *err);

/* With --json: English, unless KILNSTOW_JSON_LANGUAGE asks that what people read in it be said in
 * another language. */
ks_status ks_speech_json(ks_error *err);

/* One language asked for by an option or variable of this name. */
ks_status ks_speech_use(const char *name, const char *code, ks_error *err);

/* printf and fprintf with the format in the language in use. In this room the plain ones are these,
 * as in GNU's libintl.h, so that nothing is printed past the catalogues. */
int ks_speech_print(FILE *to, const char *format, ...) __attribute__((format(printf, 2, 3)));
#undef printf
#undef fprintf
#define printf(...) ks_speech_print(stdout, __VA_ARGS__)
#define fprintf(...) ks_speech_print(__VA_ARGS__)

#endif
