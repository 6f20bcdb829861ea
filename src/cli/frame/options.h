/* options.h: a command's options as one table, from which parsing and help are both made. */
#ifndef KILNSTOW_CLI_OPTIONS_H
#define KILNSTOW_CLI_OPTIONS_H

#include "cli/frame/speech.h"

#include <stdbool.h>

typedef enum {
    KS_OPT_FLAG,   /* bool *: set to true */
    KS_OPT_TEXT,   /* const char ** */
    KS_OPT_PAIR,   /* const char *[2]: two values, one after the other */
    KS_OPT_LIST,   /* ks_text_list *: may be given again */
    KS_OPT_COUNT,  /* int *: a whole number, least to most */
    KS_OPT_NUMBER, /* double *: least to most */
    KS_OPT_SEED,   /* uint64_t * */
} ks_option_kind;

enum { KS_LIST_MOST = 64 };

typedef struct {
    int n;
    const char *texts[KS_LIST_MOST];
} ks_text_list;

typedef struct {
    const char *name;  /* long name, without the dashes */
    char letter;       /* 0 = none */
    const char *value; /* what the value is called in help, NULL for a flag */
    ks_option_kind kind;
    void *into;
    double least, most; /* for COUNT and NUMBER */
    const char *help;
} ks_option;

typedef struct {
    const char *name;
    const char *does;     /* one line */
    const char *takes;    /* "ORDER": its plain arguments in help */
    int least, most;      /* how many plain arguments */
    const char *examples; /* lines, shown first in help */
    const char *notes;    /* more lines, or NULL */
    int n_options;
    const ks_option *options; /* the usual ones are added to every command */
} ks_command;

/* What every command has besides. */
enum { KS_USUAL_JSON, KS_USUAL_LANGUAGE, KS_USUAL_HELP, KS_USUAL_OPTIONS };
extern const ks_option ks_usual_options[KS_USUAL_OPTIONS];

/* The option that has one meaning for every output. */
#define KS_OPTION_FORCE(into)                                                                      \
    {                                                                                              \
        "force", 0, NULL, KS_OPT_FLAG, (into), 0, 0,                                               \
            "replace the file there even if it was read, or is of another kind"                    \
    }

/* Of commands that simulate firings. */
#define KS_OPTION_TUNED(into)                                                                      \
    {                                                                                              \
        "book", 0, "FILE", KS_OPT_TEXT, (into), 0, 0,                                              \
            "the studio's record: each kiln is tuned by its own metered firings"                   \
    }

typedef struct {
    bool help, json;
    int n_args;
    char **args; /* the plain arguments, borrowed from argv */
} ks_parsed;

/* argv[0] is the command's name. KS_BAD_USAGE names the slip and the remedy in *err. */
ks_status ks_options_parse(const ks_command *command, int argc, char **argv, ks_parsed *out,
                           ks_error *err);

#endif
