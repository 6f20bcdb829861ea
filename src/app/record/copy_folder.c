#include "app/record/copy_folder.h"

#include "app/machine/now.h"
#include "app/machine/where.h"
#include "app/record/log_run.h"
#include "base/days/civil.h"
#include "base/file.h"
#include "base/text.h"
#include "kilnstow/order.h"

#include <dirent.h>
#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

enum { FILES_MOST = 2000, BYTES_MOST = 256 << 20, FOLDERS_DEEP = 8, DAY_TEXT = 10 };
#define BYTES_PER_KB 1e3
static const char ending[] = ".book", own_name[] = "kilnstow.book";

/* A folder as it is gone through. */
typedef struct {
    const char *folder;
    ks_arena *arena;
    ks_error *err;
    int n, room;
    ks_book_along *files;
    size_t bytes;
} walk;

static ks_status too_much(const walk *w)
{
    return ks_fail(w->err, KS_BAD_USAGE,
                   "log copy: found more than %d files or %d MB in %s; keep the record in a folder "
                   "of its own with its orders, or copy the record alone with --record-only",
                   FILES_MOST, BYTES_MOST >> 20, w->folder);
}

/* Other records, and what is half written. */
static bool is_passed_over(const char *name)
{
    return *name == '.' || strstr(name, ending) || ks_path_ends(name, ".part");
}

static bool is_database(const ks_bytes *bytes)
{
    enum { HEAD = 16 }; /* with its NUL: sqlite.org/fileformat.html, 1.3 */
    return bytes->length >= HEAD && strncmp(bytes->bytes, "SQLite format 3", HEAD) == 0;
}

static ks_status add_file(walk *w, const char *name, const struct stat *about)
{
    ks_bytes bytes;
    size_t length = (size_t)about->st_size;
    if (w->n == FILES_MOST || length > BYTES_MOST - w->bytes)
        return too_much(w);
    ks_status status =
        ks_file_read(ks_path_join(w->folder, name, w->arena), BYTES_MOST, w->arena, &bytes, w->err);
    if (status)
        return status;
    if (is_database(&bytes)) /* a record or copy by another name */
        return KS_OK;
    w->files = KS_GROW(w->arena, w->files, w->n, &w->room, ks_book_along);
    w->files[w->n++] =
        (ks_book_along){name, (int64_t)about->st_mtim.tv_sec, bytes.length, bytes.bytes};
    w->bytes += bytes.length;
    return KS_OK;
}

static ks_status walk_folder(walk *w, const char *below, int deep)
{
    struct stat about;
    ks_status status = KS_OK;
    const char *path = *below ? ks_path_join(w->folder, below, w->arena) : w->folder;
    DIR *dir = opendir(path);
    if (!dir)
        return ks_fail(w->err, KS_SYSTEM, "%s: this folder cannot be read", path);
    for (const struct dirent *entry; !status && (entry = readdir(dir));) {
        if (is_passed_over(entry->d_name) ||
            fstatat(dirfd(dir), entry->d_name, &about, AT_SYMLINK_NOFOLLOW) != 0)
            continue;
        const char *name = ks_joined(below, *below ? "/" : "", entry->d_name, w->arena);
        if (S_ISREG(about.st_mode))
            status = add_file(w, name, &about);
        else if (S_ISDIR(about.st_mode))
            status = deep < FOLDERS_DEEP ? walk_folder(w, name, deep + 1) : too_much(w);
    }
    (void)closedir(dir);
    return status;
}

static int by_name(const void *a, const void *b)
{
    return strcmp(((const ks_book_along *)a)->name, ((const ks_book_along *)b)->name);
}

static bool is_copied(const walk *w, const char *path)
{
    for (int i = 0; i < w->n; i++)
        if (ks_path_is_same(ks_path_join(w->folder, w->files[i].name, w->arena), path))
            return true;
    return false;
}

/* What the order reads and the copy has not; kilns that came with the program come with it there,
 * too. An order with a fault tells of it when it is used. */
static void look_outside(const walk *w, const ks_book_along *file, int *room, ks_folder_copy *out)
{
    ks_order *order;
    ks_error fault = {0};
    const char *kilns = ks_where_kilns(w->arena);
    if (!ks_path_ends(file->name, ".json") || !strstr(file->bytes, "kilnstow-order/") ||
        ks_order_read(ks_path_join(w->folder, file->name, w->arena), kilns, w->arena, &order,
                      &fault))
        return;
    for (int i = 0; i < order->n_read; i++) {
        if (is_copied(w, order->read[i]) ||
            (*kilns && strcmp(ks_path_folder(order->read[i], w->arena), kilns) == 0))
            continue;
        out->outside = KS_GROW(w->arena, out->outside, out->n_outside, room, const char *);
        out->outside[out->n_outside++] = order->read[i];
    }
}

static ks_status read_folder(walk *w, ks_folder_copy *out)
{
    int room = 0;
    ks_status status = walk_folder(w, "", 0);
    if (w->n > 1)
        qsort(w->files, (size_t)w->n, sizeof *w->files, by_name);
    for (int i = 0; i < w->n && !status; i++)
        look_outside(w, &w->files[i], &room, out);
    out->n = w->n;
    out->kilobytes = (double)w->bytes / BYTES_PER_KB;
    return status;
}

static const char *dated_name(ks_arena *arena)
{
    const char *day = ks_arena_text_n(arena, ks_civil_print(ks_now(), arena), DAY_TEXT);
    return ks_joined("kilnstow-", day, ending, arena);
}

ks_status ks_folder_copy_write(const char *book_path, const char *path, bool record_only,
                               ks_arena *arena, ks_folder_copy *out, ks_error *err)
{
    ks_book *book = NULL;
    walk w = {.folder = ks_path_folder(ks_book_path(book_path), arena), .arena = arena, .err = err};
    *out = (ks_folder_copy){.path = path ? path : dated_name(arena)};
    ks_status status = ks_book_open(ks_book_path(book_path), KS_BOOK_LOOK, &book, err);
    if (!status && !record_only)
        status = read_folder(&w, out);
    if (!status)
        status = ks_book_copy(book, out->path, w.n, w.files, err);
    ks_book_close(book);
    return status;
}

/* Names lead to nowhere but below the folder, whoever made the copy. */
static bool is_below(const char *name)
{
    const char *part = name;
    for (;;) {
        size_t length = strcspn(part, "/");
        if (length == 0 || *part == '.' || memchr(part, '\\', length))
            return false;
        if (part[length] == '\0')
            return true;
        part += length + 1;
    }
}

static ks_status check_names(const char *path, int n, const ks_book_along *files, ks_error *err)
{
    for (int i = 0; i < n; i++)
        if (!is_below(files[i].name) || strcmp(files[i].name, own_name) == 0)
            return ks_fail(err, KS_BAD_INPUT,
                           "%s: found a file named \"%s\" in it, which would not lie in the folder "
                           "that it is taken out to; nothing was written",
                           path, files[i].name);
    return KS_OK;
}

static ks_status make_folder(const char *path, ks_error *err)
{
    if (mkdir(path, 0777) == 0)
        return KS_OK;
    return ks_fail(err, KS_SYSTEM,
                   "%s: this folder cannot be made; if it is left from before, remove it", path);
}

static ks_status write_file(const char *folder, const ks_book_along *file, ks_arena *arena,
                            ks_error *err)
{
    const char *path = ks_path_join(folder, file->name, arena);
    for (const char *slash = strchr(file->name, '/'); slash; slash = strchr(slash + 1, '/')) {
        size_t length = (size_t)(slash - file->name);
        (void)mkdir(ks_path_join(folder, ks_arena_text_n(arena, file->name, length), arena), 0777);
    }
    ks_status status = ks_file_write(path, file->bytes, file->length, err);
    const struct timespec changed[2] = {{.tv_sec = file->changed_s}, {.tv_sec = file->changed_s}};
    if (!status)
        (void)utimensat(AT_FDCWD, path, changed, 0);
    return status;
}

static ks_status write_all(ks_book *book, const char *folder, int n, const ks_book_along *files,
                           ks_arena *arena, ks_error *err)
{
    ks_status status = make_folder(folder, err);
    for (int i = 0; i < n && !status; i++)
        status = write_file(folder, &files[i], arena, err);
    if (!status)
        status = ks_book_copy(book, ks_path_join(folder, own_name, arena), 0, NULL, err);
    return status;
}

static const char *folder_of_copy(const char *path, ks_arena *arena)
{
    const char *name = ks_path_name(path);
    size_t length = strlen(name) - (ks_path_ends(name, ending) ? strlen(ending) : 0);
    const char *stem = ks_arena_text_n(arena, name, length);
    return ks_path_ends(name, ending) ? stem : ks_joined(stem, "-folder", "", arena);
}

/* "new/" is "new". */
static const char *without_slash(const char *folder, ks_arena *arena)
{
    size_t length = strlen(folder);
    while (length > 1 && folder[length - 1] == '/')
        length--;
    return ks_arena_text_n(arena, folder, length);
}

static ks_status check_free(const char *folder, ks_error *err)
{
    bool is_empty = true;
    if (ks_path_is_free(folder))
        return KS_OK;
    DIR *dir = opendir(folder);
    for (const struct dirent *entry; dir && (entry = readdir(dir));)
        is_empty =
            is_empty && (strcmp(entry->d_name, ".") == 0 || strcmp(entry->d_name, "..") == 0);
    if (dir)
        (void)closedir(dir);
    if (dir && is_empty)
        return KS_OK;
    return ks_fail(err, KS_BAD_USAGE,
                   "%s: is there already, and not an empty folder; a copy is opened into a new "
                   "folder, so that nothing is written over",
                   folder);
}

/* Over a folder that is empty, or in a place that is free. */
static ks_status put_in_place(const char *part, const char *folder, ks_error *err)
{
    if (rename(part, folder) == 0)
        return KS_OK;
    return ks_fail(err, KS_SYSTEM, "%s: the folder cannot be put there; all of it is in %s", folder,
                   part);
}

ks_status ks_folder_copy_open(const char *path, const char *folder, ks_arena *arena,
                              ks_folder_copy *out, ks_error *err)
{
    ks_book *book = NULL;
    ks_book_along *files = NULL;
    int n = 0;
    *out = (ks_folder_copy){.path = folder ? without_slash(folder, arena)
                                           : folder_of_copy(path, arena)};
    const char *part = ks_joined(out->path, ".part", "", arena);
    ks_status status = check_free(out->path, err);
    if (!status)
        status = ks_book_open(path, KS_BOOK_LOOK, &book, err);
    if (!status)
        status = ks_book_files(book, arena, &n, &files, err);
    if (!status)
        status = check_names(path, n, files, err);
    if (!status)
        status = write_all(book, part, n, files, arena, err);
    ks_book_close(book);
    out->n = n;
    return status ? status : put_in_place(part, out->path, err);
}
