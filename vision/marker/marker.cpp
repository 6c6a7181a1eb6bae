#include "marker.h"

#include <opencv2/aruco.hpp>
#include <opencv2/core.hpp>
#include <opencv2/core/version.hpp>
#include <opencv2/imgproc.hpp>

#include <cstdlib>
#include <cstring>
#include <exception>
#include <vector>

#define TG_NEW_ARUCO (CV_VERSION_MAJOR > 4 || (CV_VERSION_MAJOR == 4 && CV_VERSION_MINOR >= 7))

#if TG_NEW_ARUCO
#include <opencv2/objdetect/aruco_detector.hpp>
#endif

namespace {

// quads_in counts the outlines in a picture that could be markers: four corners, convex, and long enough.
int quads_in(const cv::Mat &grey, int min_perimeter_px) {
	cv::Mat dark;
	cv::adaptiveThreshold(grey, dark, 255, cv::ADAPTIVE_THRESH_MEAN_C, cv::THRESH_BINARY_INV, 13, 7); // as the finder does at its middle window
	std::vector<std::vector<cv::Point>> outlines;
	cv::findContours(dark, outlines, cv::RETR_LIST, cv::CHAIN_APPROX_NONE);
	int n = 0;
	std::vector<cv::Point> corners;
	for (const auto &o : outlines) {
		if (static_cast<int>(o.size()) < min_perimeter_px) continue;
		cv::approxPolyDP(o, corners, 0.03 * static_cast<double>(o.size()), true);
		n += corners.size() == 4 && cv::isContourConvex(corners);
	}
	return n;
}

} // namespace

extern "C" char *tg_find_markers(void *mat, int min_perimeter_px, int max_quads, int max_markers, int *ids, float *corners, int *found) {
	try {
		*found = 0;
		if (mat == nullptr) return strdup("no picture");
		const cv::Mat &grey = *static_cast<cv::Mat *>(mat);
		if (grey.empty() || grey.type() != CV_8UC1) return strdup("the picture is not an 8-bit grey one");

		if (max_quads > 0 && quads_in(grey, min_perimeter_px) > max_quads) {
			*found = -1;
			return nullptr;
		}
		std::vector<int> seen;
		std::vector<std::vector<cv::Point2f>> quads;
		const int longest = std::max(grey.rows, grey.cols);
#if TG_NEW_ARUCO
		cv::aruco::DetectorParameters how;
		how.minMarkerPerimeterRate = static_cast<double>(min_perimeter_px) / longest;
		cv::aruco::ArucoDetector detector(cv::aruco::getPredefinedDictionary(cv::aruco::DICT_5X5_250), how);
		detector.detectMarkers(grey, quads, seen);
#else
		auto how = cv::aruco::DetectorParameters::create();
		how->minMarkerPerimeterRate = static_cast<double>(min_perimeter_px) / longest;
		cv::aruco::detectMarkers(grey, cv::aruco::getPredefinedDictionary(cv::aruco::DICT_5X5_250), quads, seen, how);
#endif
		int n = 0;
		for (size_t i = 0; i < seen.size() && n < max_markers; i++, n++) {
			ids[n] = seen[i];
			for (int k = 0; k < 4; k++) {
				corners[8 * n + 2 * k] = quads[i][k].x;
				corners[8 * n + 2 * k + 1] = quads[i][k].y;
			}
		}
		*found = n;
		return nullptr;
	} catch (const std::exception &e) {
		return strdup(e.what());
	} catch (...) {
		return strdup("OpenCV stopped without saying why");
	}
}

extern "C" char *tg_marker_code(int id, unsigned *code) {
	try {
		auto dictionary = cv::aruco::getPredefinedDictionary(cv::aruco::DICT_5X5_250);
		cv::Mat modules;
#if TG_NEW_ARUCO
		cv::aruco::generateImageMarker(dictionary, id, 7, modules, 1);
#else
		cv::aruco::drawMarker(dictionary, id, 7, modules, 1);
#endif
		*code = 0;
		for (int row = 1; row <= 5; row++)
			for (int col = 1; col <= 5; col++)
				*code = *code << 1 | (modules.at<unsigned char>(row, col) > 127 ? 1u : 0u);
		return nullptr;
	} catch (const std::exception &e) {
		return strdup(e.what());
	} catch (...) {
		return strdup("OpenCV stopped without saying why");
	}
}
