#include "cli/frame/options.h"

#include "base/text.h"
#include "base/units.h"

#include <getopt.h>
#include <math.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { MOST_OPTIONS = 24, FIRST_CODE = 1000 };

const ks_option ks_usual_options[KS_USUAL_OPTIONS] = {
    {"json", 0, NULL, KS_OPT_FLAG, NULL, 0, 0,
     "one JSON object on standard output, and nothing else there; in English"},
    {"language", 0, "CODE", KS_OPT_TEXT, NULL, 0, 0, "what is said in this language: en or de"},
    {"help", 'h', NULL, KS_OPT_FLAG, NULL, 0, 0, "this page"},
};

static ks_status read_count(const ks_option *option, const char *text, ks_error *err)
{
    double number;
    if (ks_number_parse(text, &number) || number != floor(number) || number < option->least ||
        number > option->most)
        return ks_fail(err, KS_BAD_USAGE,
                       "--%s: found \"%s\"; it takes a whole number from %.0f to %.0f",
                       option->name, text, option->least, option->most);
    *(int *)option->into = (int)number;
    return KS_OK;
}

static ks_status read_number(const ks_option *option, const char *text, ks_error *err)
{
    double number;
    if (ks_number_parse(text, &number) || !(number >= option->least && number <= option->most))
        return ks_fail(err, KS_BAD_USAGE, "--%s: found \"%s\"; it takes a number from %g to %g",
                       option->name, text, option->least, option->most);
    *(double *)option->into = number;
    return KS_OK;
}

static ks_status read_seed(const ks_option *option, const char *text, ks_error *err)
{
    char *end;
    unsigned long long seed = strtoull(text, &end, 10);
    if (*text < '0' || *text > '9' || *end || strlen(text) > 18)
        return ks_fail(err, KS_BAD_USAGE,
                       "--%s: found \"%s\"; it takes a whole number of at most 18 digits",
                       option->name, text);
    *(uint64_t *)option->into = seed;
    return KS_OK;
}

static ks_status add_text(const ks_option *option, const char *text, ks_error *err)
{
    ks_text_list *list = option->into;
    if (list->n == KS_LIST_MOST)
        return ks_fail(err, KS_BAD_USAGE, "--%s: given more than %d times", option->name,
                       KS_LIST_MOST);
    list->texts[list->n++] = text;
    return KS_OK;
}

/* The second value is what stands next on the command line. */
static ks_status take_pair(const ks_option *option, const char *text, const char *next,
                           ks_error *err)
{
    const char **pair = option->into;
    if (!next)
        return ks_fail(err, KS_BAD_USAGE, "--%s: found \"%s\" alone; it takes two values: %s",
                       option->name, text, option->value);
    pair[0] = text;
    pair[1] = next;
    return KS_OK;
}

static ks_status take_value(const ks_option *option, const char *text, ks_error *err)
{
    switch (option->kind) {
    case KS_OPT_FLAG:
        *(bool *)option->into = true;
        return KS_OK;
    case KS_OPT_TEXT:
        *(const char **)option->into = text;
        return KS_OK;
    case KS_OPT_PAIR:
        return KS_BUG; /* takes two, and is not asked for one */
    case KS_OPT_LIST:
        return add_text(option, text, err);
    case KS_OPT_COUNT:
        return read_count(option, text, err);
    case KS_OPT_NUMBER:
        return read_number(option, text, err);
    case KS_OPT_SEED:
        return read_seed(option, text, err);
    }
    return KS_OK;
}

/* The table in getopt's own form; codes of long options stand above any letter. */
static void getopt_tables(const ks_command *command, struct option *longs, char *shorts)
{
    int n = 0;
    *shorts++ = ':';
    for (; n < command->n_options; n++) {
        const ks_option *option = &command->options[n];
        longs[n] = (struct option){option->name, option->value ? required_argument : no_argument,
                                   NULL, FIRST_CODE + n};
        if (!option->letter)
            continue;
        *shorts++ = option->letter;
        if (option->value)
            *shorts++ = ':';
    }
    longs[n++] = (struct option){ks_usual_options[KS_USUAL_HELP].name, no_argument, NULL, 'h'};
    longs[n++] =
        (struct option){ks_usual_options[KS_USUAL_JSON].name, no_argument, NULL, FIRST_CODE - 1};
    longs[n++] = (struct option){ks_usual_options[KS_USUAL_LANGUAGE].name, required_argument, NULL,
                                 FIRST_CODE - 2};
    longs[n] = (struct option){0};
    *shorts++ = 'h';
    *shorts = '\0';
}

static const ks_option *option_of(const ks_command *command, int code)
{
    if (code >= FIRST_CODE)
        return &command->options[code - FIRST_CODE];
    for (int i = 0; i < command->n_options; i++)
        if (command->options[i].letter == code)
            return &command->options[i];
    return NULL;
}

static ks_status unknown_option(const ks_command *command, const char *given, ks_error *err)
{
    const char *names[MOST_OPTIONS + KS_USUAL_OPTIONS];
    int n = 0;
    for (; n < KS_USUAL_OPTIONS; n++)
        names[n] = ks_usual_options[n].name;
    for (int i = 0; i < command->n_options; i++)
        names[n++] = command->options[i].name;
    const char *nearest = ks_nearest(given + strspn(given, "-"), names, n);
    if (!nearest)
        return ks_fail(err, KS_BAD_USAGE, "%s: unknown option %s; 'kilnstow %s --help' lists them",
                       command->name, given, command->name);
    return ks_fail(err, KS_BAD_USAGE,
                   "%s: unknown option %s, nearest is --%s; 'kilnstow %s --help' lists them",
                   command->name, given, nearest, command->name);
}

static ks_status one_option(const ks_command *command, int code, char **argv, ks_parsed *out,
                            ks_error *err)
{
    if (code == 'h')
        out->help = true;
    else if (code == FIRST_CODE - 1)
        out->json = true;
    else if (code == FIRST_CODE - 2)
        return ks_speech_use("--language", optarg, err);
    else if (code == ':')
        return ks_fail(err, KS_BAD_USAGE, "%s: %s needs a value; 'kilnstow %s --help' tells which",
                       command->name, argv[optind - 1], command->name);
    else if (code == '?')
        return unknown_option(command, argv[optind - 1], err);
    else if (option_of(command, code)->kind == KS_OPT_PAIR)
        return take_pair(option_of(command, code), optarg, argv[optind] ? argv[optind++] : NULL,
                         err);
    else
        return take_value(option_of(command, code), optarg, err);
    return KS_OK;
}

static ks_status plain_arguments(const ks_command *command, const ks_parsed *parsed, ks_error *err)
{
    if (parsed->n_args >= command->least && parsed->n_args <= command->most)
        return KS_OK;
    if (parsed->n_args > command->most)
        return ks_fail(err, KS_BAD_USAGE, "%s: \"%s\" is one too many; it takes %s", command->name,
                       parsed->args[command->most],
                       *command->takes ? ks_tr(command->takes) : ks_tr("options only"));
    return ks_fail(err, KS_BAD_USAGE, "%s: it needs %s, for example\n%s", command->name,
                   ks_tr(command->takes), ks_tr(command->examples));
}

ks_status ks_options_parse(const ks_command *command, int argc, char **argv, ks_parsed *out,
                           ks_error *err)
{
    struct option longs[MOST_OPTIONS + KS_USUAL_OPTIONS + 1];
    char shorts[2 * MOST_OPTIONS + KS_USUAL_OPTIONS + 1];
    getopt_tables(command, longs, shorts);
    *out = (ks_parsed){0};
    opterr = 0;
    optind = 0;
    for (int code; (code = getopt_long(argc, argv, shorts, longs, NULL)) != -1;) {
        ks_status status = one_option(command, code, argv, out, err);
        if (status)
            return status;
    }
    ks_status spoken = out->json ? ks_speech_json(err) : KS_OK;
    if (spoken)
        return spoken;
    out->n_args = argc - optind;
    out->args = argv + optind;
    return out->help ? KS_OK : plain_arguments(command, out, err);
}
