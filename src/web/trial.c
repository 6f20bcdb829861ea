#include "web/trial.h"

#include "base/path.h"

#include <dirent.h>
#include <errno.h>
#include <ftw.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

enum { OPEN_MOST = 16 };

static bool is_sent(const char *name, int n, const ks_sent_file *files)
{
    for (int i = 0; i < n; i++)
        if (strcmp(files[i].name, name) == 0)
            return true;
    return false;
}

static ks_status link_all(const char *folder, const char *into, int n, const ks_sent_file *files,
                          ks_error *err)
{
    ks_arena arena = {0};
    ks_status status = KS_OK;
    DIR *dir = opendir(folder);
    for (const struct dirent *entry; dir && !status && (entry = readdir(dir));) {
        const char *name = entry->d_name;
        if (*name == '.' || is_sent(name, n, files))
            continue;
        if (symlink(ks_path_join(folder, name, &arena), ks_path_join(into, name, &arena)) != 0)
            status = ks_fail(err, KS_SYSTEM, "%s: cannot be looked at for a try: %s", name,
                             strerror(errno));
    }
    if (dir)
        (void)closedir(dir);
    ks_arena_finish(&arena);
    return status;
}

static ks_status write_sent(const char *into, const ks_sent_file *file, ks_error *err)
{
    ks_arena arena = {0};
    ks_status status =
        ks_file_write(ks_path_join(into, file->name, &arena), file->text, strlen(file->text), err);
    ks_arena_finish(&arena);
    return status;
}

ks_status ks_trial_make(const char *folder, int n, const ks_sent_file *files, ks_arena *arena,
                        const char **path, ks_error *err)
{
    const char *place = getenv("TMPDIR");
    char *made = ks_arena_text(
        arena, ks_path_join(place && *place ? place : "/tmp", "kilnstow-try-XXXXXX", arena));
    *path = NULL;
    char *real = mkdtemp(made) ? realpath(made, NULL) : NULL;
    if (!real)
        return ks_fail(err, KS_SYSTEM, "%s: no folder for a try can be made there: %s", made,
                       strerror(errno));
    *path = ks_arena_text(arena, real);
    free(real);
    ks_status status = link_all(folder, *path, n, files, err);
    for (int i = 0; i < n && !status; i++)
        status = write_sent(*path, &files[i], err);
    return status;
}

static int remove_one(const char *path, const struct stat *about, int kind, struct FTW *where)
{
    (void)about, (void)kind, (void)where;
    return remove(path);
}

void ks_trial_remove(const char *path)
{
    if (path)
        (void)nftw(path, remove_one, OPEN_MOST, FTW_DEPTH | FTW_PHYS);
}
