/* fuzz_schedules.c: schedules of any bytes are read or refused at a place. */
#include "target.h"

#include "kilnstow/order.h"

#include <unistd.h>

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t length)
{
    char path[40];
    int fd = file_of(bytes, length, path);
    ks_arena arena = {0};
    ks_error err = {0};
    ks_schedule schedule;
    require_words(ks_schedule_read(path, &arena, &schedule, &err), &err);
    close(fd);
    ks_arena_finish(&arena);
    return 0;
}
