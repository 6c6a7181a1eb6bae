#include "marker.h"

#include <opencv2/core.hpp>
#include <opencv2/core/utils/logger.hpp>

#include <cstdio>
#include <iostream>

extern "C" void tg_quiet(void) {
	try {
		cv::utils::logging::setLogLevel(cv::utils::logging::LOG_LEVEL_SILENT);
	} catch (...) { // then it stays loud
	}
	std::cerr.rdbuf(nullptr); // where OpenCV's decoder reports what it caught, whatever the level; only C++ writes there
#ifdef __GLIBC__
	// The PNG and TIFF libraries print their warnings to C's stderr, which here is a variable ("normal variables" that may be set, glibc manual, 12.2).
	// File descriptor 2 stays as it is, for Go and for what the system says of a crash.
	if (FILE *nowhere = std::fopen("/dev/null", "w")) stderr = nowhere;
#endif
}

extern "C" void tg_one_thread(void) {
	try {
		cv::setNumThreads(1);
	} catch (...) { // then it uses several
	}
}
