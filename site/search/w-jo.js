bayleaf.words("jo",{"job":"0:1,t;1:1;3:c","join":"3:f","joint":"3:3"});
