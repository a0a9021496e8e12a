/*
 * LD_PRELOAD: beside each database file a second one is kept that has only what was flushed. Writes wait in memory until fsync or
 * fdatasync of their file; a share of them is written at once, as a kernel writes pages back whenever it likes. After a kill the
 * second files are what a disk holds when the power went.
 *
 * FLUSHED_OF: folder of the database; FLUSHED_TO: folder of the second files; FLUSHED_EARLY: percent written at once; FLUSHED_SEED;
 * FLUSHED_FAIL: the number of the one flush that fails with EIO and, as kernels do, forgets what it should have written
 */
#define _GNU_SOURCE
#include <dlfcn.h>
#include <errno.h>
#include <fcntl.h>
#include <pthread.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/types.h>
#include <unistd.h>

struct change { struct change *next; char name[256]; off_t at; size_t length; int cut; unsigned char bytes[]; };

static pthread_mutex_t lock = PTHREAD_MUTEX_INITIALIZER;
static struct change *first, **last = &first;
static unsigned int seed;
static int early = -1;

static ssize_t (*real_pwrite)(int, const void *, size_t, off_t);
static ssize_t (*real_write)(int, const void *, size_t);
static int (*real_ftruncate)(int, off_t);
static int (*real_fsync)(int);
static int (*real_fdatasync)(int);
static int (*real_unlink)(const char *);

static void *real(const char *name) { return dlsym(RTLD_NEXT, name); }

static void begin(void)
{
    if (early >= 0) return;
    real_pwrite = real("pwrite64"); real_write = real("write"); real_ftruncate = real("ftruncate64");
    real_fsync = real("fsync"); real_fdatasync = real("fdatasync"); real_unlink = real("unlink");
    const char *e = getenv("FLUSHED_EARLY"), *s = getenv("FLUSHED_SEED");
    seed = s ? (unsigned)atoi(s) : 1;
    early = e ? atoi(e) : 0;
}

/* The name below the folder when it is a file of the database, else 0. The shared memory file is rebuilt after a crash. */
static int database_name(const char *path, char *name)
{
    const char *of = getenv("FLUSHED_OF");
    size_t n = of ? strlen(of) : 0;
    if (n == 0 || strncmp(path, of, n) != 0 || path[n] != '/') return 0;
    const char *base = path + n + 1;
    if (strncmp(base, "proofdesk.db", 12) != 0 || strchr(base, '/') != NULL || strstr(base, "-shm") != NULL) return 0;
    snprintf(name, 256, "%s", base);
    return 1;
}

static int of_descriptor(int fd, char *name)
{
    char link[64], path[4096];
    snprintf(link, sizeof link, "/proc/self/fd/%d", fd);
    ssize_t n = readlink(link, path, sizeof path - 1);
    if (n <= 0) return 0;
    path[n] = 0;
    return database_name(path, name);
}

static void apply(const struct change *c)
{
    char path[4096];
    snprintf(path, sizeof path, "%s/%s", getenv("FLUSHED_TO"), c->name);
    int fd = open(path, O_RDWR | O_CREAT, 0600);
    if (fd < 0) abort();
    if (c->cut ? real_ftruncate(fd, c->at) != 0 : real_pwrite(fd, c->bytes, c->length, c->at) != (ssize_t)c->length) abort();
    close(fd);
}

static void note(const char *name, const void *bytes, size_t length, off_t at, int cut)
{
    struct change *c = malloc(sizeof *c + length);
    if (!c) abort();
    c->next = NULL; c->at = at; c->length = length; c->cut = cut;
    snprintf(c->name, sizeof c->name, "%s", name);
    if (length) memcpy(c->bytes, bytes, length);
    pthread_mutex_lock(&lock);
    *last = c; last = &c->next;
    if (rand_r(&seed) % 100 < early) apply(c);
    pthread_mutex_unlock(&lock);
}

static int fails(void)
{
    static int flushes;
    const char *at = getenv("FLUSHED_FAIL");
    return at && __sync_add_and_fetch(&flushes, 1) == atoi(at);
}

static int flush(const char *name, int failing)
{
    pthread_mutex_lock(&lock);
    struct change **at = &first;
    while (*at)
    {
        struct change *c = *at;
        if (strcmp(c->name, name) == 0) { if (!failing) apply(c); *at = c->next; free(c); }
        else at = &c->next;
    }
    last = at;
    pthread_mutex_unlock(&lock);
    if (failing) errno = EIO;
    return failing ? -1 : 0;
}

ssize_t pwrite64(int fd, const void *bytes, size_t length, off_t at)
{
    char name[256];
    begin();
    ssize_t written = real_pwrite(fd, bytes, length, at);
    if (written > 0 && of_descriptor(fd, name)) note(name, bytes, (size_t)written, at, 0);
    return written;
}

ssize_t pwrite(int fd, const void *bytes, size_t length, off_t at) { return pwrite64(fd, bytes, length, at); }

ssize_t write(int fd, const void *bytes, size_t length)
{
    char name[256];
    begin();
    off_t at = of_descriptor(fd, name) ? lseek(fd, 0, SEEK_CUR) : -1;
    ssize_t written = real_write(fd, bytes, length);
    if (written > 0 && at >= 0) note(name, bytes, (size_t)written, at, 0);
    return written;
}

int ftruncate64(int fd, off_t length)
{
    char name[256];
    begin();
    int done = real_ftruncate(fd, length);
    if (done == 0 && of_descriptor(fd, name)) note(name, NULL, 0, length, 1);
    return done;
}

int ftruncate(int fd, off_t length) { return ftruncate64(fd, length); }

int fsync(int fd)
{
    char name[256];
    begin();
    if (!of_descriptor(fd, name)) return real_fsync(fd);
    return flush(name, fails());
}

int fdatasync(int fd)
{
    char name[256];
    begin();
    if (!of_descriptor(fd, name)) return real_fdatasync(fd);
    return flush(name, fails());
}

int unlink(const char *path)
{
    char name[256], second[4096];
    begin();
    int done = real_unlink(path);
    if (done == 0 && database_name(path, name))
    {
        flush(name, 0);
        snprintf(second, sizeof second, "%s/%s", getenv("FLUSHED_TO"), name);
        real_unlink(second);
    }
    return done;
}
