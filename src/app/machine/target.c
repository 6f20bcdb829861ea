#include "app/machine/target.h"

#include "base/file.h"

#include <fcntl.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

enum { LOOKED_AT = 4096, NAMES_TRIED = 100 };

/* By what each kind is known among the first bytes of a file, or at its very beginning. */
static const struct {
    const char *name, *mark;
    bool first;
} kinds[] = {
    [KS_TARGET_PLAN] = {"a plan", "\"kilnstow-plan/1\"", false},
    [KS_TARGET_PDF] = {"a PDF file", "%PDF-", true},
    [KS_TARGET_SVG] = {"an SVG drawing", "<svg", false},
    [KS_TARGET_PNG] = {"a PNG picture", "\x89PNG", true},
    [KS_TARGET_HTML] = {"an HTML page", "<!DOCTYPE html", true},
    [KS_TARGET_CALENDAR] = {"a calendar", "PRODID:-//kilnstow//", false},
    [KS_TARGET_COSTS] = {"a table of costs", "firing_", false},
    [KS_TARGET_SUMS] = {"a table of shares or bills", "amount_", false},
    [KS_TARGET_CURVE_TABLE] = {"a table of a firing's curve", "time_h,set_c,", true},
    [KS_TARGET_CURVE] = {"a firing's curve", "\"kilnstow-curve/1\"", false},
    [KS_TARGET_LOG] = {"a record's export", "\"kilnstow-book/1\"", false},
    [KS_TARGET_LOG_TABLE] = {"a table of a record", "n,kiln,title,load,started,", true},
    [KS_TARGET_PROBLEM] = {"a problem written for a solver", "Problem:", false},
};

void ks_inputs_add(ks_inputs *inputs, const char *path)
{
    if (!path)
        return;
    inputs->paths = KS_GROW(inputs->arena, inputs->paths, inputs->n, &inputs->room, const char *);
    inputs->paths[inputs->n++] = path;
}

void ks_inputs_add_order(ks_inputs *inputs, const ks_order *order)
{
    for (int i = 0; i < order->n_read; i++)
        ks_inputs_add(inputs, order->read[i]);
}

ks_target_kind ks_target_draw(const char *path)
{
    static const struct {
        const char *ending;
        ks_target_kind kind;
    } drawn[] = {{".svg", KS_TARGET_SVG},
                 {".png", KS_TARGET_PNG},
                 {".html", KS_TARGET_HTML},
                 {".ics", KS_TARGET_CALENDAR}};
    for (size_t i = 0; i < sizeof drawn / sizeof *drawn; i++)
        if (ks_path_ends(path, drawn[i].ending))
            return drawn[i].kind;
    return KS_TARGET_PDF;
}

static const char *input_there(const struct stat *there, const ks_inputs *inputs)
{
    for (int i = 0; inputs && i < inputs->n; i++) {
        struct stat read;
        if (stat(inputs->paths[i], &read) == 0 && read.st_dev == there->st_dev &&
            read.st_ino == there->st_ino)
            return inputs->paths[i];
    }
    return NULL;
}

/* What cannot be read is not known to be of the kind. */
static bool is_of_kind(const char *path, ks_target_kind kind)
{
    char bytes[LOOKED_AT];
    size_t mark = strlen(kinds[kind].mark);
    int fd = open(path, O_RDONLY | O_CLOEXEC | O_NOCTTY);
    ssize_t got = fd < 0 ? -1 : read(fd, bytes, sizeof bytes);
    if (fd >= 0)
        (void)close(fd);
    if (got < (ssize_t)mark)
        return got == 0;
    const char *found = memmem(bytes, (size_t)got, kinds[kind].mark, mark);
    return found && (found == bytes || !kinds[kind].first);
}

ks_status ks_target_try(const char *path, ks_target_kind kind, const ks_inputs *inputs, bool force,
                        ks_error *err)
{
    struct stat there;
    if (!path || strcmp(path, "-") == 0)
        return KS_OK;
    ks_status status = ks_file_try(path, err);
    if (status || force || stat(path, &there) != 0)
        return status;
    const char *input = input_there(&there, inputs);
    if (input)
        return ks_fail(
            err, KS_BAD_USAGE,
            "%s: found %s there, which was read for this; name another file to write, or "
            "add --force to replace it",
            path, strcmp(input, path) == 0 ? "the file" : input);
    if (!is_of_kind(path, kind))
        return ks_fail(err, KS_BAD_USAGE,
                       "%s: found a file there that is not %s; name another file to write, or add "
                       "--force to replace it",
                       path, kinds[kind].name);
    return KS_OK;
}

/* "plan.json" in a folder becomes "plan-saved-1.json" in this one. */
static const char *saved_in(const char *folder, const char *path, const char *text, size_t length,
                            ks_arena *arena)
{
    const char *name = ks_path_name(path), *dot = strrchr(name, '.');
    size_t stem = dot && dot > name ? (size_t)(dot - name) : strlen(name);
    for (int i = 1; i <= NAMES_TRIED; i++) {
        struct stat there;
        const char *tried =
            ks_arena_print(arena, "%.*s-saved-%d%s", (int)stem, name, i, name + stem);
        tried = ks_path_join(folder, tried, arena);
        if (lstat(tried, &there) == 0)
            continue;
        return ks_file_write(tried, text, length, NULL) == KS_OK ? tried : NULL;
    }
    return NULL;
}

const char *ks_target_rescue(const char *path, const char *text, size_t length, ks_arena *arena)
{
    const char *temporary = getenv("TMPDIR");
    const char *folders[] = {ks_path_folder(path, arena), ".", temporary ? temporary : "/tmp"};
    for (size_t i = 0; i < sizeof folders / sizeof *folders; i++) {
        const char *saved = saved_in(folders[i], path, text, length, arena);
        if (saved)
            return saved;
    }
    return NULL;
}
