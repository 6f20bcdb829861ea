#include "web/asked.h"

#include "base/language.h"
#include "web/folder.h"

#include <string.h>

enum { ARGS_MOST = 200, FILES_MOST = 64 };

/* What would make a command do something else than answer. */
static bool is_refused(const char *arg)
{
    return strcmp(arg, "--") == 0 || strcmp(arg, "--help") == 0 || strcmp(arg, "-h") == 0;
}

static ks_status read_args(const ks_json *args, ks_arena *arena, ks_asked *out, ks_error *err)
{
    int n = args ? args->n : 0;
    if (args && args->kind != KS_JSON_ARRAY)
        return ks_json_fail(args, err, "found %s; it takes an array of texts",
                            ks_json_found(args).words);
    if (n > ARGS_MOST)
        return ks_json_fail(args, err, "found %d; there may be %d at most", n, ARGS_MOST);
    out->args = KS_TAKE(arena, n + 1, const char *);
    for (int i = 0; i < n; i++) {
        const ks_json *arg = &args->items[i];
        if (arg->kind != KS_JSON_TEXT || is_refused(arg->text))
            return ks_json_fail(arg, err,
                                "found %s; it takes texts as on the command line, "
                                "without --help and --",
                                ks_json_found(arg).words);
        out->args[out->n_args++] = arg->text;
    }
    return KS_OK;
}

ks_status ks_asked_files(const ks_json *files, ks_arena *arena, ks_asked *out, ks_error *err)
{
    int n = files ? files->n : 0;
    if (files && files->kind != KS_JSON_OBJECT)
        return ks_json_fail(files, err, "found %s; it takes an object of names and texts",
                            ks_json_found(files).words);
    if (n > FILES_MOST)
        return ks_json_fail(files, err, "found %d; there may be %d at most", n, FILES_MOST);
    out->files = KS_TAKE(arena, n, ks_sent_file);
    for (int i = 0; i < n; i++) {
        const ks_json *file = &files->items[i];
        if (file->kind != KS_JSON_TEXT || !ks_name_is_plain(file->key))
            return ks_json_fail(file, err,
                                "found %s; it takes one plain name, without folders, and a text",
                                ks_json_found(file).words);
        out->files[out->n_files++] = (ks_sent_file){file->key, file->text};
    }
    return KS_OK;
}

static ks_status read_give(const ks_json *give, ks_asked *out, ks_error *err)
{
    if (!give || give->kind == KS_JSON_NULL)
        return KS_OK;
    if (give->kind != KS_JSON_TEXT || !ks_name_is_plain(give->text))
        return ks_json_fail(give, err, "found %s; it takes the plain name of a file",
                            ks_json_found(give).words);
    out->give = give->text;
    return KS_OK;
}

ks_status ks_asked_language(const ks_json *code, const char **out, ks_error *err)
{
    *out = NULL;
    if (!code || code->kind == KS_JSON_NULL)
        return KS_OK;
    if (code->kind != KS_JSON_TEXT || !ks_language_is_known(code->text))
        return ks_json_fail(code, err, "found %s; it takes one of %s", ks_json_found(code).words,
                            ks_languages());
    *out = code->text;
    return KS_OK;
}

ks_status ks_asked_tree(ks_bytes body, ks_arena *arena, const ks_json **out, ks_error *err)
{
    ks_status status = ks_json_parse_body("body", body, arena, out, err);
    if (!status && (*out)->kind != KS_JSON_OBJECT)
        status = ks_json_fail(*out, err, "found %s; it takes an object", ks_json_found(*out).words);
    return status;
}

ks_status ks_asked_read(ks_bytes body, ks_arena *arena, ks_asked *out, ks_error *err)
{
    static const char *const keys[] = {"args", "files", "give", "language"};
    const ks_json *top;
    *out = (ks_asked){0};
    ks_status status = ks_asked_tree(body, arena, &top, err);
    if (!status)
        status = ks_json_only(top, keys, sizeof keys / sizeof *keys, err);
    if (!status)
        status = read_args(ks_json_get(top, "args"), arena, out, err);
    if (!status)
        status = ks_asked_files(ks_json_get(top, "files"), arena, out, err);
    if (!status)
        status = read_give(ks_json_get(top, "give"), out, err);
    if (!status)
        status = ks_asked_language(ks_json_get(top, "language"), &out->language, err);
    return status;
}
