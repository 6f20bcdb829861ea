#include "check.h"

#include "base/path.h"
#include "base/text.h"
#include "kilnstow/book.h"

#include <sqlite3.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* A disk that refuses: SQLite's own interface to the system is wrapped, and each write, each sync
 * and each truncation of adding an entry fails once, as on a full or a broken disk. What was there
 * stays there, what was told as written is there, and the message says which of the two it was. */

static char folder[] = "/tmp/kilnstow-disk-XXXXXX";
static ks_arena arena;
static ks_error err;

static int calls_until, fault; /* the call that fails, counted down; 0 = none */

typedef struct {
    sqlite3_file base;
    sqlite3_file *real;
} wrapped;

static bool fails(void)
{
    return calls_until > 0 && --calls_until == 0;
}

static sqlite3_file *real_of(sqlite3_file *file)
{
    return ((wrapped *)file)->real;
}

static int close_it(sqlite3_file *file)
{
    return real_of(file)->pMethods->xClose(real_of(file));
}

static int read_it(sqlite3_file *file, void *into, int n, sqlite3_int64 from)
{
    return real_of(file)->pMethods->xRead(real_of(file), into, n, from);
}

static int write_it(sqlite3_file *file, const void *bytes, int n, sqlite3_int64 to)
{
    return fails() ? fault : real_of(file)->pMethods->xWrite(real_of(file), bytes, n, to);
}

static int truncate_it(sqlite3_file *file, sqlite3_int64 size)
{
    return fails() ? fault : real_of(file)->pMethods->xTruncate(real_of(file), size);
}

static int sync_it(sqlite3_file *file, int flags)
{
    return fails() ? fault : real_of(file)->pMethods->xSync(real_of(file), flags);
}

static int size_of_it(sqlite3_file *file, sqlite3_int64 *size)
{
    return real_of(file)->pMethods->xFileSize(real_of(file), size);
}

static int lock_it(sqlite3_file *file, int lock)
{
    return real_of(file)->pMethods->xLock(real_of(file), lock);
}

static int unlock_it(sqlite3_file *file, int lock)
{
    return real_of(file)->pMethods->xUnlock(real_of(file), lock);
}

static int look_at_lock(sqlite3_file *file, int *reserved)
{
    return real_of(file)->pMethods->xCheckReservedLock(real_of(file), reserved);
}

static int control_it(sqlite3_file *file, int what, void *argument)
{
    return real_of(file)->pMethods->xFileControl(real_of(file), what, argument);
}

static int sector_of_it(sqlite3_file *file)
{
    return real_of(file)->pMethods->xSectorSize(real_of(file));
}

static int traits_of_it(sqlite3_file *file)
{
    return real_of(file)->pMethods->xDeviceCharacteristics(real_of(file));
}

static const sqlite3_io_methods methods = {.iVersion = 1,
                                           .xClose = close_it,
                                           .xRead = read_it,
                                           .xWrite = write_it,
                                           .xTruncate = truncate_it,
                                           .xSync = sync_it,
                                           .xFileSize = size_of_it,
                                           .xLock = lock_it,
                                           .xUnlock = unlock_it,
                                           .xCheckReservedLock = look_at_lock,
                                           .xFileControl = control_it,
                                           .xSectorSize = sector_of_it,
                                           .xDeviceCharacteristics = traits_of_it};

static sqlite3_vfs *system_vfs, own_vfs;

static int open_it(sqlite3_vfs *vfs, const char *name, sqlite3_file *file, int flags, int *got)
{
    (void)vfs;
    wrapped *own = (wrapped *)file;
    own->real = (sqlite3_file *)(own + 1);
    int code = system_vfs->xOpen(system_vfs, name, own->real, flags, got);
    own->base.pMethods = own->real->pMethods ? &methods : NULL;
    return code;
}

static int wrap_the_disk(void **state)
{
    system_vfs = sqlite3_vfs_find(NULL);
    own_vfs = *system_vfs;
    own_vfs.zName = "refusing";
    own_vfs.szOsFile = (int)sizeof(wrapped) + system_vfs->szOsFile;
    own_vfs.xOpen = open_it;
    return mkdtemp(folder) ? sqlite3_vfs_register(&own_vfs, 1) : -1;
}

static int unwrap_the_disk(void **state)
{
    int status = system(ks_joined("rm -rf ", folder, "", &arena));
    ks_arena_finish(&arena);
    return sqlite3_vfs_unregister(&own_vfs) == SQLITE_OK ? status : -1;
}

static ks_status added(const char *path, const char *title)
{
    ks_loss losses[] = {{"mug", 1, "cracked", ""}};
    ks_book_firing firing = {.mark = {.written = "2026-11-28T18:20:00Z"},
                             .plan = title,
                             .load = 1,
                             .kiln = "round-690",
                             .title = title,
                             .started = "2026-11-27 09:00",
                             .ended = "",
                             .kwh = 61.3,
                             .meter_from = NAN,
                             .meter_to = NAN,
                             .meter_unit = "kWh",
                             .minutes = NAN,
                             .currency = "",
                             .note = "",
                             .struck = "",
                             .n_losses = 1,
                             .losses = losses};
    ks_book *book;
    err = (ks_error){0};
    ks_status status = ks_book_open(path, KS_BOOK_MAKE, &book, &err);
    if (!status)
        status = ks_book_write_firing(book, &firing, "{}", &err);
    ks_book_close(book);
    return status;
}

/* How many entries there are; each whole. */
static int entries_in(const char *path)
{
    ks_book *book;
    ks_book_firing *firings;
    int n;
    err = (ks_error){0};
    if (ks_book_open(path, KS_BOOK_LOOK, &book, &err))
        fail_msg("%s", err.text);
    ks_book_asked asked = {.lists = KS_LISTS_ALL};
    if (ks_book_firings(book, &asked, &arena, &n, &firings, &err))
        fail_msg("%s", err.text);
    for (int i = 0; i < n; i++)
        assert_int_equal(firings[i].n_losses, 1);
    ks_book_close(book);
    ks_book_health health;
    assert_int_equal(ks_book_sound(path, NULL, &arena, &health, &err), KS_OK);
    assert_string_equal(health.says, "");
    return n;
}

/* Each call of adding a second entry refuses once; how many there are. */
static int refused_at_each_call(const char *name, int code, const char *words)
{
    const char *path = ks_path_join(folder, name, &arena);
    fault = code;
    assert_int_equal(added(path, "first"), KS_OK);
    for (int call = 1, told = 1;; call++) {
        calls_until = call;
        ks_status status = added(path, "second");
        bool refused = calls_until == 0;
        calls_until = 0;
        told += status == KS_OK;
        if (status) {
            assert_int_equal(status, KS_SYSTEM);
            assert_non_null(strstr(err.text, words));
            assert_non_null(strstr(err.text, "nothing was written"));
        }
        assert_int_equal(entries_in(path), told);
        if (!refused)
            return call - 1;
    }
}

static void a_full_disk_loses_nothing(void **state)
{
    assert_true(refused_at_each_call("full", SQLITE_FULL, "the disk is full") > 5);
}

static void a_broken_disk_loses_nothing(void **state)
{
    assert_true(refused_at_each_call("broken", SQLITE_IOERR_WRITE, "disk I/O error") > 5);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_full_disk_loses_nothing),
        cmocka_unit_test(a_broken_disk_loses_nothing),
    };
    return cmocka_run_group_tests(tests, wrap_the_disk, unwrap_the_disk);
}
