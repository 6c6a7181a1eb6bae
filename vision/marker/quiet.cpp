#include "marker.h"

#include <opencv2/core.hpp>
#include <opencv2/core/utils/logger.hpp>

#include <algorithm>
#include <cstdio>
#include <cstring>
#include <iostream>

namespace {

// The first words that a picture library printed on this thread, and how much of them there is. A library prints from the thread that
// decodes, so that photos decoded side by side do not mix theirs.
thread_local char said[200];
thread_local size_t said_length;

#ifdef __GLIBC__
ssize_t take(void *, const char *words, size_t n) {
	const size_t kept = std::min(n, sizeof said - 1 - said_length);
	std::memcpy(said + said_length, words, kept);
	said_length += kept;
	said[said_length] = 0;
	return static_cast<ssize_t>(n);
}
#endif

} // namespace

extern "C" void tg_hear(void) {
	said_length = 0;
	said[0] = 0;
}

extern "C" const char *tg_heard(void) { return said; }

extern "C" void tg_quiet(void) {
	try {
		cv::utils::logging::setLogLevel(cv::utils::logging::LOG_LEVEL_SILENT);
	} catch (...) { // then it stays loud
	}
	std::cerr.rdbuf(nullptr); // where OpenCV's decoder reports what it caught, whatever the level; only C++ writes there
#ifdef __GLIBC__
	// The JPEG, PNG and TIFF libraries print their warnings to C's stderr, which here is a variable ("normal variables" that
	// may be set, glibc manual, 12.2; streams of one's own, 12.21.3), and they are kept for whoever asks. File descriptor 2 stays as it is, for Go and for what the system says of a crash.
	cookie_io_functions_t how = {};
	how.write = take;
	if (FILE *ear = fopencookie(nullptr, "w", how)) {
		std::setvbuf(ear, nullptr, _IONBF, 0);
		stderr = ear;
	}
#endif
}

extern "C" void tg_one_thread(void) {
	try {
		cv::setNumThreads(1);
	} catch (...) { // then it uses several
	}
}
