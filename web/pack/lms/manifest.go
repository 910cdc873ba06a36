package lms

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/xml"
	"fmt"
	"strconv"
	"strings"
)

// escaped makes a text safe between tags and in attributes.
func escaped(s string) string {
	var b strings.Builder
	if err := xml.EscapeText(&b, []byte(s)); err != nil { // writing to memory cannot fail
		panic("lms: " + err.Error())
	}
	return b.String()
}

// manifest returns the name and the text of what a platform reads first.
func (p *Package) manifest(names []string, link string) (name, text string) {
	switch p.Format {
	case SCORM12:
		return "imsmanifest.xml", p.scorm12(names)
	case SCORM2004:
		return "imsmanifest.xml", p.scorm2004(names)
	}
	return "cmi5.xml", p.cmi5(link)
}

// id is a name that an XML document can have, of this job.
func (p *Package) id(what string) string {
	return "crankbay-" + what + "-" + p.Job.Scenario.Digest()[:16]
}

// files lists what belongs to the resource.
func files(names []string) string {
	var b strings.Builder
	for _, n := range names {
		fmt.Fprintf(&b, "      <file href=\"%s\"/>\n", escaped(n))
	}
	return b.String()
}

// share writes a pass mark: 0.7.
func share(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }

// scorm12 follows the SCORM 1.2 content aggregation model: one organization, one item,
// one resource that is a SCO.
func (p *Package) scorm12(names []string) string {
	return `<?xml version="1.0" encoding="UTF-8"?>
<manifest identifier="` + p.id("manifest") + `" version="1.0"
    xmlns="http://www.imsproject.org/xsd/imscp_rootv1p1p2"
    xmlns:adlcp="http://www.adlnet.org/xsd/adlcp_rootv1p2"
    xmlns:xsi="http://www.w3.org/2001/XMLSchema-instance"
    xsi:schemaLocation="http://www.imsproject.org/xsd/imscp_rootv1p1p2 imscp_rootv1p1p2.xsd http://www.adlnet.org/xsd/adlcp_rootv1p2 adlcp_rootv1p2.xsd">
  <metadata>
    <schema>ADL SCORM</schema>
    <schemaversion>1.2</schemaversion>
  </metadata>
  <organizations default="` + p.id("course") + `">
    <organization identifier="` + p.id("course") + `">
      <title>` + escaped(p.title()) + `</title>
      <item identifier="` + p.id("item") + `" identifierref="` + p.id("page") + `" isvisible="true">
        <title>` + escaped(p.title()) + `</title>
        <adlcp:masteryscore>` + strconv.FormatFloat(100*p.Pass, 'f', -1, 64) + `</adlcp:masteryscore>
      </item>
    </organization>
  </organizations>
  <resources>
    <resource identifier="` + p.id("page") + `" type="webcontent" adlcp:scormtype="sco" href="index.html">
` + files(names) + `    </resource>
  </resources>
</manifest>
`
}

// scorm2004 follows the fourth edition. Whether the job is passed is the page's to say,
// because a safety gate can fail it whatever the points are: hence no measure of its own.
func (p *Package) scorm2004(names []string) string {
	return `<?xml version="1.0" encoding="UTF-8"?>
<manifest identifier="` + p.id("manifest") + `" version="1.0"
    xmlns="http://www.imsglobal.org/xsd/imscp_v1p1"
    xmlns:adlcp="http://www.adlnet.org/xsd/adlcp_v1p3"
    xmlns:imsss="http://www.imsglobal.org/xsd/imsss"
    xmlns:xsi="http://www.w3.org/2001/XMLSchema-instance"
    xsi:schemaLocation="http://www.imsglobal.org/xsd/imscp_v1p1 imscp_v1p1.xsd http://www.adlnet.org/xsd/adlcp_v1p3 adlcp_v1p3.xsd http://www.imsglobal.org/xsd/imsss imsss_v1p0.xsd">
  <metadata>
    <schema>ADL SCORM</schema>
    <schemaversion>2004 4th Edition</schemaversion>
  </metadata>
  <organizations default="` + p.id("course") + `">
    <organization identifier="` + p.id("course") + `">
      <title>` + escaped(p.title()) + `</title>
      <item identifier="` + p.id("item") + `" identifierref="` + p.id("page") + `" isvisible="true">
        <title>` + escaped(p.title()) + `</title>
        <imsss:sequencing>
          <imsss:objectives>
            <imsss:primaryObjective objectiveID="` + p.id("objective") + `" satisfiedByMeasure="false"/>
          </imsss:objectives>
          <imsss:deliveryControls completionSetByContent="true" objectiveSetByContent="true"/>
        </imsss:sequencing>
      </item>
    </organization>
  </organizations>
  <resources>
    <resource identifier="` + p.id("page") + `" type="webcontent" adlcp:scormType="sco" href="index.html">
` + files(names) + `    </resource>
  </resources>
</manifest>
`
}

// cmi5 follows the course structure of the cmi5 specification. Its ids are names made of
// the job, the same for the same job.
func (p *Package) cmi5(link string) string {
	lang := map[string]string{"": "en-US", "en": "en-US", "es": "es-US"}[p.Language]
	words := func(tag, text, indent string) string {
		return indent + "<" + tag + `><langstring lang="` + lang + `">` + escaped(text) + "</langstring></" + tag + ">\n"
	}
	return `<?xml version="1.0" encoding="UTF-8"?>
<courseStructure xmlns="https://w3id.org/xapi/profiles/cmi5/v1/CourseStructure.xsd">
  <course id="` + urn(p.Job.Scenario.Digest(), "course", link) + `">
` + words("title", p.title(), "    ") + words("description", p.said(p.Job.Scenario.Complaint), "    ") + `  </course>
  <au id="` + urn(p.Job.Scenario.Digest(), "au", link) + `" moveOn="CompletedAndPassed" masteryScore="` + share(p.Pass) + `" launchMethod="AnyWindow" activityType="http://adlnet.gov/expapi/activities/assessment">
` + words("title", p.title(), "    ") + words("description", p.said(p.Job.Scenario.Complaint), "    ") + `    <url>index.html</url>
    <launchParameters>` + escaped(link) + `</launchParameters>
  </au>
</courseStructure>
`
}

// urn is a name-based UUID (version 8 of RFC 9562: its bits are ours to make).
func urn(parts ...string) string {
	sum := sha256.Sum256([]byte("crankbay\n" + strings.Join(parts, "\n")))
	b := sum[:16]
	b[6], b[8] = b[6]&0x0f|0x80, b[8]&0x3f|0x80
	h := hex.EncodeToString(b)
	return "urn:uuid:" + h[:8] + "-" + h[8:12] + "-" + h[12:16] + "-" + h[16:20] + "-" + h[20:]
}
