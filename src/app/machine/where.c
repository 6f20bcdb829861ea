#include "app/machine/where.h"

#include "base/file.h"

#include <dirent.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

static const char *program_folder(ks_arena *arena)
{
    char path[4096];
    ssize_t length = readlink("/proc/self/exe", path, sizeof path - 1);
    if (length <= 0)
        return ".";
    path[length] = '\0';
    return ks_path_folder(path, arena);
}

const char *ks_where_kilns(ks_arena *arena)
{
    static const char *const beside[] = {"../kilns", "../share/kilnstow/kilns", "../../kilns"};
    const char *home = program_folder(arena);
    for (size_t i = 0; i < sizeof beside / sizeof *beside; i++) {
        struct stat found;
        const char *folder = ks_path_join(home, beside[i], arena);
        if (stat(folder, &found) == 0 && S_ISDIR(found.st_mode))
            return folder;
    }
    return "";
}

static int by_name(const void *a, const void *b)
{
    return strcmp(*(const char *const *)a, *(const char *const *)b);
}

int ks_where_files(const char *folder, const char *ending, ks_arena *arena, const char ***names)
{
    int n = 0, room = 0;
    *names = NULL;
    DIR *dir = *folder ? opendir(folder) : NULL;
    if (!dir)
        return 0;
    for (const struct dirent *entry; (entry = readdir(dir));) {
        if (!ks_path_ends(entry->d_name, ending))
            continue;
        *names = KS_GROW(arena, *names, n, &room, const char *);
        (*names)[n++] = ks_arena_text(arena, entry->d_name);
    }
    closedir(dir);
    if (n > 0)
        qsort(*names, (size_t)n, sizeof **names, by_name);
    return n;
}
