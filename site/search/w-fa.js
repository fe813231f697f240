bayleaf.words("fa",{"face":"0:f;2:k,t","faces":"1:8;2:f","factory":"3:0,5,8","fails":"1:1;2:1","fall":"3:e","falls":"3:e","far":"2:e","fasten":"0:i;2:l","fasteners":"2:7;3:5","fault":"1:k;2:1;3:o"});
