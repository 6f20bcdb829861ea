#include "web/folder.h"

#include "base/data/json_out.h"
#include "base/hash.h"
#include "base/path.h"
#include "web/page_file.h"
#include "web/server.h"

#include <dirent.h>
#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <time.h>
#include <unistd.h>

enum { NAME_MOST = 200, FORMAT_MOST = 64, LOOKED_AT = 4096, BAK_LARGEST = 64 * 1024 * 1024 };

bool ks_name_is_plain(const char *name)
{
    size_t length = strlen(name), at = 0;
    if (length == 0 || length > NAME_MOST || *name == '.' || *name == '-' || strchr(name, '/'))
        return false;
    while (at < length) {
        uint32_t code;
        int bytes = ks_utf8_next(name + at, length - at, &code);
        if (bytes == 0 || ks_is_control(code))
            return false;
        at += (size_t)bytes;
    }
    return true;
}

static int hex_value(char digit)
{
    static const char digits[] = "0123456789abcdef";
    const char *found = digit ? strchr(digits, digit | 0x20) : NULL;
    return found ? (int)(found - digits) : -1;
}

const char *ks_name_decoded(const char *sent, ks_arena *arena)
{
    char *name = ks_arena_text(arena, sent), *to = name;
    for (const char *from = name; *from;) {
        bool coded = *from == '%';
        int high = coded ? hex_value(from[1]) : 0;
        int low = coded && high >= 0 ? hex_value(from[2]) : 0;
        if (high < 0 || low < 0 || (coded && high + low == 0))
            return NULL;
        *to++ = coded ? (char)(high * 16 + low) : *from;
        from += coded ? 3 : 1;
    }
    *to = '\0';
    return ks_name_is_plain(name) ? name : NULL;
}

static int by_text(const void *a, const void *b)
{
    return strcmp(*(const char *const *)a, *(const char *const *)b);
}

int ks_folder_names(const char *folder, ks_arena *arena, const char ***names)
{
    int n = 0, room = 0;
    struct stat about;
    *names = NULL;
    DIR *dir = opendir(folder);
    if (!dir)
        return 0;
    for (const struct dirent *entry; (entry = readdir(dir));) {
        if (!ks_name_is_plain(entry->d_name) ||
            fstatat(dirfd(dir), entry->d_name, &about, AT_SYMLINK_NOFOLLOW) != 0 ||
            !S_ISREG(about.st_mode))
            continue;
        *names = KS_GROW(arena, *names, n, &room, const char *);
        (*names)[n++] = ks_arena_text(arena, entry->d_name);
    }
    (void)closedir(dir);
    if (n > 1)
        qsort(*names, (size_t)n, sizeof **names, by_text);
    return n;
}

/* Another for each state that a file was ever in: who replaces it makes a new one. */
const char *ks_etag_of(const struct stat *about, ks_arena *arena)
{
    char hex[65];
    const long long state[] = {(long long)about->st_dev,  (long long)about->st_ino,
                               (long long)about->st_size, (long long)about->st_mtim.tv_sec,
                               about->st_mtim.tv_nsec,    (long long)about->st_ctim.tv_sec,
                               about->st_ctim.tv_nsec};
    ks_sha256(state, sizeof state, hex);
    hex[16] = '\0';
    return ks_joined("\"", hex, "\"", arena);
}

static const char *time_text(time_t when, ks_arena *arena)
{
    struct tm utc;
    char text[32];
    if (!gmtime_r(&when, &utc) || strftime(text, sizeof text, "%Y-%m-%dT%H:%M:%SZ", &utc) == 0)
        return NULL;
    return ks_arena_text(arena, text);
}

/* What kind of file of ours it says it is, NULL where it says none. */
static const char *format_of(int fd, ks_arena *arena)
{
    static const char key[] = "\"format\"", ours[] = "kilnstow-";
    char bytes[LOOKED_AT + 1];
    ssize_t got = pread(fd, bytes, LOOKED_AT, 0);
    bytes[got > 0 ? got : 0] = '\0';
    const char *at = strstr(bytes, key);
    if (!at)
        return NULL;
    at += strlen(key);
    at += strspn(at, " \t\r\n:");
    size_t length = *at == '"' ? strcspn(at + 1, "\"\\") : 0;
    if (length == 0 || length > FORMAT_MOST || strncmp(at + 1, ours, strlen(ours)) != 0)
        return NULL;
    return ks_arena_text_n(arena, at + 1, length);
}

/* Opens a plain file of the folder, and no link; -1 where there is none. */
static int open_file(const char *folder, const char *name, struct stat *about, ks_arena *arena)
{
    int fd = open(ks_path_join(folder, name, arena),
                  O_RDONLY | O_CLOEXEC | O_NOCTTY | O_NONBLOCK | O_NOFOLLOW);
    if (fd >= 0 && fstat(fd, about) == 0 && S_ISREG(about->st_mode))
        return fd;
    if (fd >= 0)
        (void)close(fd);
    return -1;
}

static void add_state(ks_json_out *out, const char *name, const struct stat *about)
{
    ks_out_text(out, "name", name);
    ks_out_whole(out, "bytes", about->st_size);
    ks_out_text(out, "modified", time_text(about->st_mtim.tv_sec, out->text.arena));
    ks_out_text(out, "etag", ks_etag_of(about, out->text.arena));
}

static void reply_json(ks_call *call, int status, ks_json_out *out)
{
    const char *text = ks_out_done(out);
    ks_reply(call, status, "application/json", (ks_bytes){text, strlen(text)});
}

void ks_folder_list(ks_call *call)
{
    const char **names, *folder = call->server->folder;
    int n = ks_folder_names(folder, &call->arena, &names);
    ks_json_out out = {.text.arena = &call->arena};
    ks_out_object(&out, NULL);
    ks_out_text(&out, "folder", ks_path_name(folder));
    ks_out_array(&out, "files");
    for (int i = 0; i < n; i++) {
        struct stat about;
        int fd = open_file(folder, names[i], &about, &call->arena);
        if (fd < 0)
            continue;
        ks_out_object_flat(&out, NULL);
        add_state(&out, names[i], &about);
        ks_out_text(&out, "format", format_of(fd, &call->arena));
        ks_out_end(&out);
        (void)close(fd);
    }
    ks_out_end(&out);
    ks_out_end(&out);
    reply_json(call, 200, &out);
}

void ks_folder_get(ks_call *call)
{
    struct stat about;
    const char *name = ks_name_decoded(call->route.rest, &call->arena);
    int fd = name ? open_file(call->server->folder, name, &about, &call->arena) : -1;
    if (fd < 0) {
        ks_reply_failure(call, 404, "there is no such file in the folder");
        return;
    }
    const char *etag = ks_etag_of(&about, &call->arena), *type = ks_media_type(name);
    if (call->if_none_match && strcmp(call->if_none_match, etag) == 0) {
        ks_reply(call, 304, NULL, (ks_bytes){"", 0});
        (void)close(fd);
    } else {
        ks_reply_file(call, type ? type : "application/octet-stream", fd, (size_t)about.st_size);
    }
    ks_reply_header(call, "ETag", etag);
}

/* What a page may write; what only programs make (records, sheets) is theirs. */
static bool may_be_put(const char *name)
{
    static const char *const endings[] = {".json", ".csv", ".txt", ".jpg",
                                          ".jpeg", ".png", ".webp"};
    for (size_t i = 0; i < sizeof endings / sizeof *endings; i++)
        if (ks_path_ends(name, endings[i]))
            return true;
    return false;
}

/* 0, or the status of the refusal: a file is replaced only by who knows the state that it is in. */
static int state_fault(const ks_call *call, const struct stat *about, const char **why)
{
    bool there = about != NULL;
    if (call->if_none_match && strcmp(call->if_none_match, "*") == 0) {
        *why = "there is a file of this name by now; read it first";
        return there ? 412 : 0;
    }
    if (call->if_match) {
        ks_arena arena = {0};
        bool same = there && strcmp(call->if_match, ks_etag_of(about, &arena)) == 0;
        ks_arena_finish(&arena);
        *why = there ? "the file has changed on disk since it was read; read it again"
                     : "the file is no longer there";
        return same ? 0 : 412;
    }
    *why = "say which state of the file is replaced: If-Match with its ETag";
    return there ? 428 : 0;
}

/* A ware table is what the potter typed elsewhere, so what stood there is kept. */
static ks_status keep_old(const char *path, ks_arena *arena, ks_error *err)
{
    ks_bytes old;
    if (!ks_path_ends(path, ".csv"))
        return KS_OK;
    ks_status status = ks_file_read(path, BAK_LARGEST, arena, &old, err);
    return status ? status
                  : ks_file_write(ks_joined(path, "", ".bak", arena), old.bytes, old.length, err);
}

static void put(ks_call *call, const char *name, bool there)
{
    ks_error err = {0};
    struct stat about;
    const char *path = ks_path_join(call->server->folder, name, &call->arena);
    ks_status status = there ? keep_old(path, &call->arena, &err) : KS_OK;
    if (!status)
        status = ks_file_write(path, call->length > 0 ? call->body : "", call->length, &err);
    int fd = status ? -1 : open_file(call->server->folder, name, &about, &call->arena);
    if (fd < 0) {
        ks_reply_failure(call, 500, status ? err.text : "the file was written and is gone again");
        return;
    }
    (void)close(fd);
    ks_json_out out = {.text.arena = &call->arena};
    ks_out_object(&out, NULL);
    add_state(&out, name, &about);
    ks_out_end(&out);
    reply_json(call, there ? 200 : 201, &out);
    ks_reply_header(call, "ETag", ks_etag_of(&about, &call->arena));
}

void ks_folder_put(ks_call *call)
{
    struct stat about;
    const char *why = "", *name = ks_name_decoded(call->route.rest, &call->arena);
    if (!name) {
        ks_reply_failure(call, 404, "a file's name is one plain name, without folders");
        return;
    }
    if (!may_be_put(name)) {
        ks_reply_failure(call, 415,
                         "orders, kilns and plans (.json), tables (.csv), notes (.txt) "
                         "and photographs (.jpg, .png, .webp) can be put here");
        return;
    }
    const char *path = ks_path_join(call->server->folder, name, &call->arena);
    bool there = lstat(path, &about) == 0;
    if (there && !S_ISREG(about.st_mode)) {
        ks_reply_failure(call, 404, "there is no plain file of that name");
        return;
    }
    int fault = state_fault(call, there ? &about : NULL, &why);
    if (fault)
        ks_reply_failure(call, fault, why);
    else
        put(call, name, there);
}
