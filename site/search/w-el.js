bayleaf.words("el",{"elbow":"0:0,d","electrical":"0:0","electrician":"0:p"});
