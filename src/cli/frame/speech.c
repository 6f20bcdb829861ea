#include "cli/frame/speech.h"

#include "base/text.h"

#include <stdarg.h>
#include <stdbool.h>
#include <stdlib.h>
#include <string.h>

static const char variable[] = "KILNSTOW_LANGUAGE", option[] = "--language",
                  of_json[] = "KILNSTOW_JSON_LANGUAGE";

ks_status ks_speech_use(const char *name, const char *code, ks_error *err)
{
    if (ks_language_use(code))
        return KS_OK;
    return ks_fail(err, KS_BAD_USAGE, "%s: found \"%s\"; it takes one of %s", name, code,
                   ks_languages());
}

/* The value in `--language de` or `--language=de`, NULL where the argument is neither. */
static const char *asked_by(char **argv)
{
    size_t length = sizeof option - 1;
    if (strncmp(*argv, option, length) != 0)
        return NULL;
    return argv[0][length] == '=' ? *argv + length + 1 : argv[0][length] == '\0' ? argv[1] : NULL;
}

ks_status ks_speech_json(ks_error *err)
{
    const char *code = getenv(of_json);
    return ks_speech_use(of_json, code && *code ? code : "en", err);
}

ks_status ks_speech_start(int argc, char **argv, ks_error *err)
{
    const char *name = variable, *code = getenv(variable);
    for (int i = 1; i < argc && strcmp(argv[i], "--") != 0; i++) {
        if (strcmp(argv[i], "--json") == 0)
            return ks_speech_json(err);
        const char *asked = asked_by(argv + i);
        if (asked) {
            name = option;
            code = asked;
        }
    }
    return code && *code ? ks_speech_use(name, code, err) : KS_OK;
}

int ks_speech_print(FILE *to, const char *format, ...)
{
    ks_arena arena = {0};
    ks_text text = {.arena = &arena};
    va_list args;
    va_start(args, format);
    ks_text_print_list(&text, format, args);
    va_end(args);
    int printed = fputs(ks_text_end(&text), to);
    ks_arena_finish(&arena);
    return printed;
}
