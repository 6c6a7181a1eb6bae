#include "camera.h"

#include <opencv2/calib3d.hpp>
#include <opencv2/core.hpp>

#include <cstring>
#include <exception>
#include <vector>

extern "C" char *tg_fit_camera(int views, const int *points, const float *plane, const float *picture, int width, int height,
	int free_middle, int free_k2, double *camera, double *turns, double *misfits) {
	try {
		if (views < 1 || width < 1 || height < 1) return strdup("nothing to fit");
		std::vector<std::vector<cv::Point3f>> targets(views);
		std::vector<std::vector<cv::Point2f>> seen(views);
		for (int i = 0, at = 0; i < views; i++) {
			if (points[i] < 4) return strdup("a view has fewer than four points");
			for (int k = 0; k < points[i]; k++, at++) {
				targets[i].emplace_back(plane[2 * at], plane[2 * at + 1], 0.f);
				seen[i].emplace_back(picture[2 * at], picture[2 * at + 1]);
			}
		}
		cv::Mat k = (cv::Mat_<double>(3, 3) << camera[0], 0, camera[1], 0, camera[0], camera[2], 0, 0, 1);
		cv::Mat distortion = (cv::Mat_<double>(1, 5) << camera[3], camera[4], 0, 0, 0);
		std::vector<cv::Mat> rotations, places;
		cv::Mat spread, spreadOfPlaces, each;
		int flags = cv::CALIB_USE_INTRINSIC_GUESS | cv::CALIB_FIX_ASPECT_RATIO | cv::CALIB_ZERO_TANGENT_DIST | cv::CALIB_FIX_K3;
		if (!free_middle) flags |= cv::CALIB_FIX_PRINCIPAL_POINT;
		if (!free_k2) flags |= cv::CALIB_FIX_K2;
		const cv::TermCriteria until(cv::TermCriteria::COUNT + cv::TermCriteria::EPS, 50, 1e-10);
		cv::calibrateCamera(targets, seen, cv::Size(width, height), k, distortion, rotations, places, spread, spreadOfPlaces, each, flags, until);
		camera[0] = k.at<double>(0, 0);
		camera[1] = k.at<double>(0, 2);
		camera[2] = k.at<double>(1, 2);
		camera[3] = distortion.at<double>(0);
		camera[4] = distortion.at<double>(1);
		for (int i = 0; i < views; i++) {
			for (int j = 0; j < 3; j++) turns[3 * i + j] = rotations[i].at<double>(j);
			misfits[i] = each.at<double>(i);
		}
		return nullptr;
	} catch (const std::exception &e) {
		return strdup(e.what());
	} catch (...) {
		return strdup("OpenCV stopped without saying why");
	}
}
